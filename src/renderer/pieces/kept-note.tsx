import type { Draft } from '../session/use-draft.ts';
import { Button } from './button.tsx';
import styles from './kept-note.module.css';

/** Says that what stands in a form was typed earlier, with a way to clear it. */
export function KeptNote({
  draft,
  what = 'what was typed here',
}: {
  draft: Pick<Draft<unknown>, 'isKept' | 'clear'>;
  what?: string;
}) {
  if (!draft.isKept) return null;
  return (
    <p className={styles.kept}>
      <span>Kept from before: {what}, not saved yet.</span>
      <Button size="row" look="quiet" onClick={draft.clear}>
        Clear it
      </Button>
    </p>
  );
}
