import type { BookWords } from './learn-book.ts';
import { endings, openings } from './story-clauses.ts';

/**
 * Complaints about other things sound like complaints about scooters: a mower that “starts, then dies” does. A list of
 * such texts never ends, so they are made: a fault in the book's own words, said of another machine, is no scooter
 * fault; said of an electric drive it is out of scope. “Rattles like a tractor” stays what it is.
 */
const otherMachines = (
  'car|van|truck|lorry|bus|tractor|lawnmower|lawn mower|mower|strimmer|chainsaw|hedge trimmer|leaf blower|snow blower|generator|' +
  'pressure washer|outboard|boat|motor boat|jet ski|quad|quad bike|atv|tuk tuk|rickshaw|forklift|excavator|digger|camper|' +
  'motorhome|caravan|bicycle|push bike|mountain bike|washing machine|dishwasher|tumble dryer|fridge|freezer|boiler|heating|' +
  'oven|cooker|microwave|toaster|kettle|coffee machine|vacuum cleaner|hoover|air conditioner|fan heater|pump in the cellar|' +
  'tap|toilet|shower|sink|lift|elevator|garage door|front door|door bell|doorbell|drill|angle grinder|circular saw|sewing machine|' +
  'laptop|computer|printer|phone|tablet|television|tv|router|wifi|drone|camera|watch|clock|radio|headphones|speaker|' +
  'alarm at home|treadmill|exercise bike|wheelchair|mobility scooter|walker|pram|pushchair|wheelbarrow|shopping cart|trolley|' +
  'horse|dog|cat|knee|back|shoulder|tooth|stomach|ear|train|tram|plane|helicopter|ship|motorcycle with gears|pickup truck|diesel|' +
  'old car|hatchback|estate car|taxi|lorry|trailer|cement mixer|compressor|welder|water pump|hedge cutter|rotavator|tiller|' +
  'greenhouse|roof|window|lamp in the kitchen|tv remote|game console|vending machine|escalator|barbecue|gas stove'
).split('|');

const electricDrives = (
  'electric scooter|e-scooter|escooter|e scooter|electric moped|e-moped|ev scooter|ev|electric kick scooter|electric bike|' +
  'battery scooty|hub motor scooter|electric one|electric scooty|kick scooter with hub motor|plug-in scooter|' +
  'electric maxi scooter|stand-up e-scooter|rental e-scooter'
).split('|');

const electricParts = (
  'the motor controller|the hub motor|the bms|the battery pack|the lithium pack|regen|the charger brick|the hall sensors|' +
  'the display error|the traction battery|the charge port|the phase wires|48 volt pack|60 volt pack|72 volt pack|the wall charger|the range'
).split('|');

export interface ContrastText {
  readonly text: string;
  readonly is: 'not-a-fault' | 'electric-drive' | { readonly symptomId: string };
}

const isShort = (phrase: string): boolean => phrase.length >= 12 && phrase.length <= 70;
/** A phrase that already names the machine says of whom it speaks. */
const namesTheMachine = /scoot|moped|bike|vehicle|engine|cc\b/i;

/** The same texts for the same book. */
export function contrastTexts(book: Pick<BookWords, 'phrases'>): ContrastText[] {
  const phrases: { text: string; symptomId: string }[] = [];
  for (const [symptomId, list] of book.phrases)
    for (const text of list)
      if (isShort(text) && !namesTheMachine.test(text)) phrases.push({ text, symptomId });
  if (phrases.length === 0) return [];
  let state = 7;
  const next = (): { text: string; symptomId: string } => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return phrases[Math.floor((state / 2 ** 32) * phrases.length)] as { text: string; symptomId: string };
  };
  const out: ContrastText[] = [];
  const notAFault = (text: string): unknown => out.push({ text, is: 'not-a-fault' });
  const electric = (text: string): unknown => out.push({ text, is: 'electric-drive' });
  // A book of few phrases must not drown in what it is not about.
  const every = Math.max(1, Math.ceil((otherMachines.length * 6) / phrases.length));
  const some = (list: readonly string[]): readonly string[] => list.filter((_, i) => i % every === 0);
  for (const machine of some(otherMachines)) {
    notAFault(`my ${machine} ${next().text}`);
    notAFault(`the ${machine}, ${next().text}`);
    notAFault(`${next().text}, ${machine}`);
    notAFault(`${machine} ${next().text}`);
    const { text, symptomId } = next();
    out.push({ text: `${text}, like a ${machine}`, is: { symptomId } });
    const other = next();
    out.push({ text: `I left the ${machine} at home, ${other.text}`, is: { symptomId: other.symptomId } });
  }
  for (const drive of some(electricDrives)) {
    for (let i = 0; i < 6; i++) {
      electric(`my ${drive} ${next().text}`);
      electric(`${next().text}, ${drive}`);
    }
  }
  for (const part of some(electricParts)) {
    for (let i = 0; i < 4; i++) electric(`${part}, ${next().text}`);
    electric(`${part} ${next().text}`);
  }
  return out;
}

/** Phrases of the book told as stories: with things around them that say nothing about the fault. */
export function storyTexts(
  book: Pick<BookWords, 'phrases'>,
  count: number,
): { text: string; symptomId: string }[] {
  const phrases: { text: string; symptomId: string }[] = [];
  for (const [symptomId, list] of book.phrases)
    for (const text of list) if (text.length >= 25 && text.length <= 120) phrases.push({ text, symptomId });
  if (phrases.length === 0) return [];
  let state = 11;
  const below = (n: number): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * n);
  };
  return Array.from({ length: Math.min(count, phrases.length) }, () => {
    const { text, symptomId } = phrases[below(phrases.length)] as { text: string; symptomId: string };
    const parts = [openings[below(openings.length)], text, endings[below(endings.length)]];
    if (below(2) === 0) parts.splice(1, 0, openings[below(openings.length)]);
    if (below(2) === 0) parts.push(endings[below(endings.length)]);
    return { text: parts.join('. '), symptomId };
  });
}
