import { foreignWords } from './foreign-words.ts';

/** Words that say nothing about a scooter, left out. Small words that carry sense (not, when, only, off) stay. */
export const dropWords: ReadonlySet<string> = new Set(
  (
    'a an the of to is are was were be been am i im ive my me mine we our us you your he his she her they their it its this that these those there and or so as ' +
    // The same of other languages.
    'der das dem ein eine einen ist und il lo gli la las los el le les un una une uno de del della du des est et que che ' +
    'hai hain raha rahi rahe ka ki ke ko ang yung ay yang itu ini di'
  ).split(' '),
);

/** All brought to “not”; words that end in n't as well. */
export const negationWords: ReadonlySet<string> = new Set(
  (
    'not no non none nothing zero nil nope nah cannot cant wont dont doesnt didnt isnt arent wasnt werent havent hasnt hadnt ' +
    'wouldnt couldnt shouldnt aint doesn didn dnt dosent dosnt doesent wudnt neither nor nae dinnae cannae willnae'
  ).split(' '),
);

const same = (canon: string, words: string): [string, string][] =>
  words.split(' ').map((word) => [word, canon]);

/** Spellings and words for one thing, brought to one. The right side may be several words. */
export const canonWords: ReadonlyMap<string, string> = new Map([
  ...foreignWords,
  ...same('fuel', 'petrol gasoline benzin benzine gasolina essence petroleum'),
  ...same('tire', 'tyre tyer'),
  ...same('tires', 'tyres tyers'),
  ...same('indicator', 'blinker winker flasher turnsignal trafficator'),
  ...same('indicators', 'blinkers winkers flashers turnsignals inds trafficators'),
  ...same('headlamp', 'headlight headlite hl'),
  ...same('headlamps', 'headlights headlites'),
  ...same('tail lamp', 'taillight taillamp'),
  ...same('brake lamp', 'brakelight brakelamp stoplight stoplamp'),
  ...same('lamp', 'light lite lamps lights lites bulb bulbs'),
  ...same('speedometer', 'speedo speedos'),
  ...same('odometer', 'odo'),
  ...same('carburetor', 'carb carby carburettor carburator carbs carburetter'),
  ...same('battery', 'batt bat batts accu akku bateria batterie accumulator'),
  ...same('exhaust', 'muffler silencer exaust tailpipe'),
  ...same('coolant', 'antifreeze'),
  ...same('variator', 'vario variomatic'),
  ...same('handlebar', 'handlebars bars bar steering'),
  ...same('wrench', 'spanner'),
  ...same('crank', 'cranks cranking'),
  ...same('gray', 'grey'),
  ...same('color', 'colour'),
  ...same('center', 'centre'),
  ...same('odor', 'odour'),
  ...same('aluminum', 'aluminium'),
  ...same('bright', 'brite'),
  ...same('night', 'nite'),
  ...same('through', 'thru'),
  ...same('revs', 'rpm rpms rev'),
  ...same('scooter', 'scooty scoot scootie moped vehicle bike gaadi gadi scoots motorbike motorcycle skoot'),
  ...same('because', 'cos cuz coz bcoz bcz'),
  ...same('kickstarter', 'kickstart kicker'),
  ...same('engine', 'motor moteur moter'),
  ...same('dash', 'dashboard cluster instruments clocks instrument display lcd tft'),
  ...same('ignition', 'ign'),
  ...same('switch', 'sw'),
  ...same('volt', 'v volts voltage vdc'),
  ...same('amp', 'amps ampere amperes'),
  ...same('noise', 'sound sounds noises'),
  ...same('intermittent', 'interm'),
  ...same('customer', 'cust'),
  ...same('accelerator throttle', 'accelerator race'),
  ...same('throttle', 'throtle'),
  ...same('start', 'strt'),
]);

/** Two words that are one thing: first word → second word → the thing. */
export const phraseWords: ReadonlyMap<string, ReadonlyMap<string, string>> = pairs([
  ['turn', 'signal', 'indicator'],
  ['turn', 'signals', 'indicators'],
  ['head', 'lamp', 'headlamp'],
  ['front', 'lamp', 'headlamp'],
  ['check', 'engine', 'checkengine'],
  ['self', 'start', 'electricstart'],
  ['electric', 'start', 'electricstart'],
  ['electric', 'starter', 'electricstart'],
  ['electrical', 'starter', 'electricstart'],
  ['electrical', 'start', 'electricstart'],
  ['self', 'starter', 'electricstart'],
  ['e', 'start', 'electricstart'],
  ['e', 'starter', 'electricstart'],
  ['kick', 'start', 'kickstarter'],
  ['kick', 'starter', 'kickstarter'],
  ['side', 'stand', 'sidestand'],
  ['brake', 'lamp', 'brakelamp'],
  ['stop', 'lamp', 'brakelamp'],
  ['tail', 'lamp', 'taillamp'],
  ['rear', 'lamp', 'taillamp'],
  ['back', 'lamp', 'taillamp'],
  ['e', 'scooter', 'escooter'],
  ['e', 'bike', 'ebike'],
]);

function pairs(list: readonly (readonly [string, string, string])[]): Map<string, Map<string, string>> {
  const out = new Map<string, Map<string, string>>();
  for (const [first, second, thing] of list) {
    const seconds = out.get(first) ?? new Map<string, string>();
    out.set(first, seconds.set(second, thing));
  }
  return out;
}
