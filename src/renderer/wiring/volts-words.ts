import type { CircuitState } from '../../api/contract.ts';

type Node = CircuitState['nodes'][string] | undefined;

const tenths = (volts: number): string => {
  const text = volts.toFixed(Math.abs(volts) < 99.95 ? 1 : 0);
  return text === '-0.0' ? '0.0' : text.replace('-', '−');
};

/** "12.6", with a wave before volts of alternating current, "–" where nothing is connected. */
export function shortVolts(node: Node): string {
  if (!node) return '';
  if (node.level === 'chatter') return '∿';
  if (node.volts === null) return '–';
  if (node.volts_ac !== undefined && node.volts_ac >= 0.5 && Math.abs(node.volts) < node.volts_ac) {
    return `∿${tenths(node.volts_ac)}`;
  }
  return tenths(node.volts);
}

/** For the table: words and the unit. */
export function longVolts(node: Node): string {
  if (!node) return '';
  if (node.level === 'chatter') return 'jumps with the chatter';
  if (node.volts === null) return 'not connected';
  const dc = `${tenths(node.volts)}\u202fV`;
  if (node.volts_ac === undefined || node.volts_ac < 0.05) return dc;
  return Math.abs(node.volts) < node.volts_ac
    ? `${tenths(node.volts_ac)}\u202fV AC`
    : `${dc}, ${tenths(node.volts_ac)}\u202fV AC on it`;
}

const words: Record<string, string> = {
  normal: 'turns',
  in: 'pulled in',
  out: 'released',
  'runs-on': 'runs on',
  'flashes-fast': 'flashes fast',
  'stays-lit': 'stays lit',
  'stays-dark': 'stays dark',
  'no-spark': 'no spark',
  part: 'weak',
  none: 'off',
  full: 'works',
};

/** What a part shows, as a colleague would say it. A flasher that nobody asks to flash is at rest, not at fault. */
export function signWords(word: string, isAsHealthy: boolean): string {
  if (word === 'stays-dark' && isAsHealthy) return 'at rest';
  return words[word] ?? word;
}

/** The fault in a word or two, for the drawing: what stands before a colon, or before "where". */
export const shortFault = (fault: string): string => fault.split(/[:;]| where /)[0] ?? fault;
