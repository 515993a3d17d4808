export interface ChangedLine {
  readonly key: string;
  readonly sign: '+' | '-' | ' ';
  readonly text: string;
}

/** Lines before and after, in reading order: common ones once, the rest marked as gone or new (longest common run of lines). */
export function changedLines(before: string, after: string): ChangedLine[] {
  const a = before.split('\n').filter(Boolean);
  const b = after.split('\n').filter(Boolean);
  const longest = a
    .map(() => new Array<number>(b.length + 1).fill(0))
    .concat([new Array<number>(b.length + 1).fill(0)]);
  const at = (i: number, j: number): number => longest[i]?.[j] ?? 0;
  for (let i = a.length - 1; i >= 0; i -= 1)
    for (let j = b.length - 1; j >= 0; j -= 1) {
      const row = longest[i];
      if (row) row[j] = a[i] === b[j] ? at(i + 1, j + 1) + 1 : Math.max(at(i + 1, j), at(i, j + 1));
    }
  const lines: ChangedLine[] = [];
  let i = 0;
  let j = 0;
  while (i < a.length || j < b.length) {
    const [left, right] = [a[i], b[j]];
    const key = `${i}-${j}`;
    if (left !== undefined && left === right) {
      lines.push({ key, sign: ' ', text: left });
      i += 1;
      j += 1;
    } else if (left !== undefined && (right === undefined || at(i + 1, j) >= at(i, j + 1))) {
      lines.push({ key, sign: '-', text: left });
      i += 1;
    } else {
      lines.push({ key, sign: '+', text: right ?? '' });
      j += 1;
    }
  }
  return lines;
}
