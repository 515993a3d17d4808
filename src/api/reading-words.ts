import type { Book } from '../book/index.ts';
import { type GivenReading, outcomeOfValue, type ValueReading, valueAtSpec } from '../diagnosis/index.ts';

/** What was read, in words with units, as it stands on the card for good. */
export function readingWords(
  book: Book,
  reading: GivenReading,
): { title: string; shows: string; outcome: string | null } {
  if (reading.kind === 'circuit') {
    const { instrument } = reading;
    const unit = { voltmeter: 'V', ohmmeter: 'Ω', ammeter: 'A', 'test-lamp': '' }[instrument.kind];
    const where =
      instrument.kind === 'ammeter'
        ? `around ${instrument.around}`
        : `${instrument.lead} to ${instrument.tip}`;
    return {
      title: `${instrument.kind.replace('-', ' ')}, ${where}`,
      shows: reading.lamp ? `lamp ${reading.lamp}` : `${reading.value ?? ''} ${unit}`.trim(),
      outcome: null,
    };
  }
  const check = book.checks.get(reading.checkId);
  const title = check?.title ?? reading.checkId;
  if (reading.kind === 'outcome') {
    const outcome = check?.outcomes.find((one) => one.id === reading.outcome);
    return { title, shows: outcome?.title ?? reading.outcome, outcome: reading.outcome };
  }
  const place = check ? outcomeOfValue(check, valueAtSpec(book, check, reading)) : null;
  return {
    title,
    shows: [`${reading.value} ${check?.quantity?.unit ?? ''}`.trim(), ...conditionWords(reading)].join(', '),
    outcome: place === null ? null : (check?.outcomes[place]?.id ?? null),
  };
}

/** The conditions that a value was read at, as far as a person noted them. */
function conditionWords({ conditions }: ValueReading): string[] {
  if (!conditions) return [];
  const { temperature_c, rest_hours, charge_percent, engine_rpm, lead_ohm } = conditions;
  return [
    ...(temperature_c === undefined ? [] : [`at ${temperature_c} °C`]),
    ...(rest_hours === undefined ? [] : [`rested ${rest_hours} h`]),
    ...(charge_percent === undefined ? [] : [`${charge_percent} % charged`]),
    ...(engine_rpm === undefined ? [] : [`at ${engine_rpm}/min`]),
    ...(lead_ohm === undefined ? [] : [`leads ${lead_ohm} Ω`]),
  ];
}
