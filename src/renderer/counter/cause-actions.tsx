import { Link, useNavigate } from 'react-router';
import type { ProcedureName } from '../../api/contract.ts';
import { useRepair } from '../bench/use-repair.ts';
import { Button } from '../pieces/button.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { openQuoteOf, setOpenQuote } from '../quotes/open-quote.ts';
import { newId } from '../session/new-id.ts';
import { useWrite } from '../session/use-write.ts';
import { type Intake, modelOf, whoseParts, wordsFor } from './intake.ts';
import styles from './likely-causes.module.css';

const shown: readonly ProcedureName[] = ['quotes.list'];

/** From a likely cause onward: which parts fit, and a quote for its repair. */
export function CauseActions({ causeId, title, intake }: { causeId: string; title: string; intake: Intake }) {
  const navigate = useNavigate();
  const repair = useRepair(causeId);
  const draft = useWrite('quotes.draft', shown);
  const modelId = modelOf(intake.vehicle);
  const { vehicle } = intake;
  const quote = async (): Promise<void> => {
    const made = await draft.run({
      quoteId: newId(),
      causeIds: [causeId],
      ...(vehicle?.kind === 'known' ? { vehicleId: vehicle.vehicle.vehicleId } : modelId ? { modelId } : {}),
      ...(vehicle?.kind === 'new' ? { forWhom: wordsFor(vehicle) } : {}),
    });
    if (!made) return;
    setOpenQuote(openQuoteOf(made));
    void navigate(`/counter/quotes/${made.quoteId}`);
  };
  return (
    <div className={styles.actions}>
      {repair?.parts.map((part) => (
        <Link
          key={part.kind}
          to={`/counter/parts?${new URLSearchParams({ ...whoseParts(intake.vehicle), kind: part.kind })}`}
        >
          {part.title}: what fits
        </Link>
      ))}
      <Button
        size="row"
        look="quiet"
        aria-label={`Quote this repair: ${title}`}
        disabled={draft.isBusy}
        onClick={() => void quote()}
      >
        Quote this repair
      </Button>
      <ProblemNote problem={draft.problem} />
    </div>
  );
}
