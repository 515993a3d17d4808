import styles from './tally-marks.module.css';

/** More marks than this are cut off; the number beside them says it all. */
const most = 30;
const step = 6;
const groupWidth = 28;

/** Five-bar tally marks for a count of proven jobs. Always shown beside the number, so hidden from readers. */
export function TallyMarks({ count }: { count: number }) {
  const shown = Math.min(Math.max(0, Math.floor(count)), most);
  if (shown === 0) return null;
  const groups = Math.floor(shown / 5);
  const rest = shown % 5;
  const paths: string[] = [];
  for (let group = 0; group < groups; group += 1) {
    const x = 2 + group * groupWidth;
    for (let bar = 0; bar < 4; bar += 1) paths.push(`M${x + bar * step} 2v12`);
    paths.push(`M${x - 2} 13 ${x + 20} 3`);
  }
  for (let bar = 0; bar < rest; bar += 1) paths.push(`M${2 + groups * groupWidth + bar * step} 2v12`);
  const isCut = count > most;
  const width = groups * groupWidth + rest * step + 2 + (isCut ? 16 : 0);
  return (
    <svg className={styles.marks} width={width} height={16} viewBox={`0 0 ${width} 16`} aria-hidden="true">
      <path d={paths.join('')} />
      {isCut ? (
        <path className={styles.more} d={`M${width - 14} 12h.1M${width - 9} 12h.1M${width - 4} 12h.1`} />
      ) : null}
    </svg>
  );
}
