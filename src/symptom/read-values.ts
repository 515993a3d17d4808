/** A value with a unit, as it stood in the text. */
export interface TextReading {
  readonly text: string;
  readonly value: number;
  readonly unit: string;
}

const units: readonly (readonly [RegExp, string])[] = [
  [/^(?:kv)$/, 'kV'],
  [/^(?:mv|millivolts?)$/, 'mV'],
  [/^(?:v|volts?|vdc|vac|vlts?)$/, 'V'],
  [/^(?:ma|milliamps?|milliamperes?)$/, 'mA'],
  [/^(?:a|amps?|amperes?)$/, 'A'],
  [/^(?:k ?ohms?|kω|kilo-?ohms?)$/, 'kΩ'],
  [/^(?:ohms?|ω)$/, 'Ω'],
  [/^(?:w|watts?)$/, 'W'],
  [/^(?:bar|bars)$/, 'bar'],
  [/^(?:psi)$/, 'psi'],
  [/^(?:kpa)$/, 'kPa'],
  [/^(?:°c|deg c|degrees? c|celsius|degrees? celsius|° c|c)$/, '°C'],
  [/^(?:°f|deg f|degrees? f|fahrenheit|degrees? fahrenheit|° f)$/, '°F'],
  [/^(?:rpm|r\/min|revs)$/, 'r/min'],
  [/^(?:km\/h|kmh|kph|kmph)$/, 'km/h'],
  [/^(?:mph)$/, 'mph'],
  [/^(?:mm)$/, 'mm'],
  [/^(?:l\/100 ?km|liters? per 100)$/, 'L/100 km'],
  [/^(?:km\/l|kmpl)$/, 'km/L'],
  [/^(?:mpg)$/, 'mpg'],
];

const pattern =
  /(?<![\p{L}\p{N}.,])([+-]?\d{1,6}(?:[.,]\d{1,3})?)\s?(km\/h|km\/l|r\/min|l\/100 ?km|liters? per 100|°\s?[cf]|deg(?:rees?)? (?:c(?:elsius)?|f(?:ahrenheit)?)|k ?ohms?|kΩ|Ω|[a-z]+)(?![\p{L}\p{N}])/giu;

/** The values with units in a text, in order. A comma between digits is read as the decimal sign. */
export function readValues(text: string): TextReading[] {
  const found: TextReading[] = [];
  for (const match of text.matchAll(pattern)) {
    const [whole, digits, word] = match;
    if (!digits || !word) continue;
    const folded = word.toLowerCase().replace(/\s+/g, ' ');
    const unit = units.find(([form]) => form.test(folded))?.[1];
    if (!unit) continue;
    found.push({ text: whole, value: Number(digits.replace(',', '.')), unit });
  }
  return found;
}
