export type DecimalSign = ',' | '.';

/** A number above 999,999,999 is no price of a part. */
const mostWhole = 9;
const mostDecimals = 10;

export type DecimalRead =
  /** Decimal string without a plus sign or thousands. */
  | { readonly ok: true; readonly value: string }
  | { readonly ok: false; readonly why: 'no-number' | 'too-large' };

const no: DecimalRead = { ok: false, why: 'no-number' };

/**
 * Reads a number as suppliers write it: thousands parted by point, comma, space or apostrophe; a currency sign or up to four
 * letters around it; minus before, behind, or as parentheses (bookkeepers); "12,-" and "12.–" for whole amounts.
 * @param sign what parts the decimals in this list; it decides only where one sign is followed by exactly three digits
 */
export function readDecimalOr(text: string, sign: DecimalSign): DecimalRead {
  if (isPlain(text, sign)) return { ok: true, value: text.replace(',', '.') };
  let bare = text.replace(/[\s\u00a0\u2009\u202f'’`]/g, '');
  let isNegative = false;
  const inParentheses = /^(\D*)\((.*\d.*)\)(\D*)$/.exec(bare);
  if (inParentheses) {
    isNegative = true;
    bare = `${inParentheses[1]}${inParentheses[2]}${inParentheses[3]}`;
  }
  const found = /^(\D*)(\d(?:.*\d)?)(\D*)$/u.exec(bare);
  if (!found) return no;
  let [, before = '', digits = '', after = ''] = found;
  // A point right before the digits begins decimals (".50"), unless it ends an abbreviation ("Fr.").
  if (/(?:^|[^\p{L}])[.,]$/u.test(before)) {
    digits = `0${before.at(-1)}${digits}`;
    before = before.slice(0, -1);
  }
  if (/[-−–]/.test(before)) isNegative = true;
  // "12,-" says that there are no cents; "12.50-" is below zero.
  if (/^[.,][-–—]{1,2}/.test(after)) after = after.replace(/^[.,][-–—]+/, '');
  else if (/^[.,]?[-−]/.test(after)) isNegative = true;
  if (!isAround(before) || !isAround(after)) return no;
  return joinDigits(digits, sign, isNegative);
}

/** Digits with one or two decimals behind the usual sign, as nearly every price is written. */
function isPlain(text: string, sign: DecimalSign): boolean {
  const { length } = text;
  if (length === 0 || length > mostWhole) return false;
  let mark = -1;
  for (let at = 0; at < length; at += 1) {
    const code = text.charCodeAt(at);
    if (code >= 48 && code <= 57) continue;
    if (mark >= 0 || text[at] !== sign) return false;
    mark = at;
  }
  if (mark < 0) return text.charCodeAt(0) !== 48;
  const decimals = length - mark - 1;
  return (
    mark > 0 &&
    (text.charCodeAt(0) !== 48 || mark === 1) &&
    (decimals === 2 || (decimals === 1 && !text.endsWith('0')))
  );
}

/** What may stand around a number: signs of currencies, at most four letters, dots and dashes; no percent, no second number. */
function isAround(text: string): boolean {
  return (
    text === '' || /^[+\-−–.,:]*(?:\p{Sc}|\p{L}{1,4}\.?(?:\p{Sc})?|\p{L}\p{Sc})?[+\-−–.,:]*$/u.test(text)
  );
}

function joinDigits(digits: string, sign: DecimalSign, isNegative: boolean): DecimalRead {
  if (!/^[\d.,]+$/.test(digits)) return no;
  const points = digits.split('.').length - 1;
  const commas = digits.split(',').length - 1;
  let decimal: DecimalSign | null = null;
  if (points > 0 && commas > 0) decimal = digits.lastIndexOf(',') > digits.lastIndexOf('.') ? ',' : '.';
  else if (points + commas === 1) {
    const only: DecimalSign = points === 1 ? '.' : ',';
    decimal = /^[1-9]\d{0,2}[.,]\d{3}$/.test(digits) && only !== sign ? null : only;
  }
  const thousands = decimal === ',' ? '.' : decimal === '.' ? ',' : points > 0 ? '.' : ',';
  const [whole = '', rest = '', ...more] = decimal ? digits.split(decimal) : [digits];
  if (more.length > 0) return no;
  const groups = whole.split(thousands);
  const isGrouped =
    groups.length === 1 ||
    ((groups[0] as string).length <= 3 &&
      groups[0] !== '' &&
      // Three digits everywhere, or two but for the last, as lakhs are written.
      groups
        .slice(1)
        .every((group, place) => group.length === 3 || (group.length === 2 && place < groups.length - 2)));
  if (!isGrouped || /[.,]/.test(rest)) return no;
  const joined = groups.join('').replace(/^0+(?=\d)/, '') || '0';
  if (!/^\d+$/.test(joined) || rest.length > mostDecimals) return no;
  if (joined.length > mostWhole) return { ok: false, why: 'too-large' };
  const tail = rest.replace(/0+$/, '').padEnd(rest === '' ? 0 : Math.min(2, rest.length), '0');
  const value = `${joined}${tail === '' ? '' : `.${tail}`}`;
  return { ok: true, value: isNegative ? `-${value}` : value };
}

/** The same, null where it is no number. */
export function readDecimal(text: string, sign: DecimalSign): string | null {
  const read = readDecimalOr(text, sign);
  return read.ok ? read.value : null;
}

/** Which sign parts the decimals, from some prices of the list; a list parted by semicolons is of the comma where nothing tells. */
export function findDecimalSign(prices: readonly string[], delimiter: string): DecimalSign {
  let comma = 0;
  let point = 0;
  for (const price of prices) {
    const found = /([.,])(\d+)\D*$/.exec(price);
    if (!found || (found[2] as string).length === 3) continue;
    if (found[1] === ',') comma += 1;
    else point += 1;
  }
  if (comma === point) return delimiter === ';' ? ',' : '.';
  return comma > point ? ',' : '.';
}
