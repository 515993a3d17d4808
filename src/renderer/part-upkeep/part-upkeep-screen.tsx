import { Link, useNavigate, useSearchParams } from 'react-router';
import type { PartCard } from '../../api/contract.ts';
import { useWhoEdits } from '../handbook/who-edits.ts';
import { Waiting } from '../pieces/empty.tsx';
import { Field } from '../pieces/field.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { FitmentsOfPart } from './fitments-of-part.tsx';
import { PartForm } from './part-form.tsx';
import styles from './part-upkeep.module.css';
import { CountOfPart, PastOfPart, PricesOfPart } from './shelf-of-part.tsx';
import { EqualParts, ReplacedBy } from './ties-of-part.tsx';

const upkeepOf = (partNumber: string): string => `/counter/parts/edit?part=${encodeURIComponent(partNumber)}`;

/** What the form of a part shows, as one text. */
const ownFields = (card: PartCard): string =>
  JSON.stringify([
    card.partNumber,
    card.title,
    card.kind,
    card.componentId,
    card.maker,
    card.gtin,
    card.bin,
    card.minimum,
    card.attributes,
  ]);

function WhoEdits({ who, onChange }: { who: string; onChange: (name: string) => void }) {
  return (
    <Field label="Who changes it">
      {(ids) => (
        <input
          {...ids}
          value={who}
          maxLength={80}
          autoComplete="off"
          onChange={(event) => onChange(event.target.value)}
        />
      )}
    </Field>
  );
}

/** A new part of the catalog; a number out of a price list brings its words along. */
export function NewPartScreen() {
  const [params] = useSearchParams();
  const [who, setWho] = useWhoEdits();
  const navigate = useNavigate();
  return (
    <div className={styles.page}>
      <div className={styles.head}>
        <h1>New part</h1>
        <Link to="/counter/parts">Back to the parts</Link>
      </div>
      <div className={styles.who}>
        <WhoEdits who={who} onChange={setWho} />
      </div>
      <PartForm
        card={null}
        start={{ number: params.get('number') ?? '', title: params.get('title') ?? '' }}
        who={who}
        onSaved={(card) => void navigate(upkeepOf(card.partNumber), { replace: true })}
      />
    </div>
  );
}

/** One part of the catalog with everything that can be said about it. */
export function PartUpkeepScreen() {
  const [params, setParams] = useSearchParams();
  const partNumber = params.get('part') ?? '';
  const [who, setWho] = useWhoEdits();
  const read = useRead('parts.card', partNumber === '' ? null : { partNumber });
  const card = read.data;
  return (
    <div className={styles.page}>
      <div className={styles.head}>
        <h1>
          Upkeep of <span className={styles.number}>{card?.partNumber ?? partNumber}</span>
        </h1>
        <Link to={`/counter/parts?part=${encodeURIComponent(partNumber)}`}>Back to the part</Link>
        <Link to="/counter/parts/new">New part</Link>
      </div>
      {read.isPending && partNumber !== '' ? <Waiting what="Getting the part" /> : null}
      <ProblemNote problem={read.error} onRetry={() => void read.refetch()} />
      {card ? (
        <>
          <div className={styles.who}>
            <WhoEdits who={who} onChange={setWho} />
          </div>
          <div className={styles.columns}>
            <div className={styles.column}>
              <PartForm
                // What somebody else changed in it meanwhile is shown, instead of being written over; a new fitment or
                // price leaves what is being typed.
                key={ownFields(card)}
                card={card}
                start={{ number: '', title: '' }}
                who={who}
                onSaved={(after) => setParams({ part: after.partNumber }, { replace: true })}
              />
              <PricesOfPart card={card} who={who} />
              <CountOfPart card={card} />
              <PastOfPart card={card} who={who} />
            </div>
            <div className={styles.column}>
              <FitmentsOfPart card={card} who={who} />
              <ReplacedBy card={card} who={who} />
              <EqualParts card={card} who={who} />
            </div>
          </div>
        </>
      ) : null}
    </div>
  );
}
