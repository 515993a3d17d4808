import { useId, useState } from 'react';
import type { CheckView, CircuitDraw, RankedCause } from '../../api/contract.ts';
import { ColumnTitle } from '../pieces/column-title.tsx';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import type { Marks } from './circuit-drawing.tsx';
import { ControlButtons } from './control-buttons.tsx';
import { DrawingFrame } from './drawing-frame.tsx';
import { ExpectedTable } from './expected-table.tsx';
import { PointTable } from './point-table.tsx';
import { SuspectSwitch } from './suspect-switch.tsx';
import { useWiring } from './use-wiring.ts';
import styles from './wiring-panel.module.css';

interface Props {
  check: CheckView | null;
  /** The causes still in question, likeliest first. */
  suspects: readonly Pick<RankedCause, 'causeId' | 'title'>[];
  /** The machine; without it every circuit of the book can be chosen. */
  modelId?: string | null;
}

function marksOf(probe: CheckView['probe'] | null, chosen: string | undefined): Marks {
  const own = chosen === undefined ? {} : { chosen };
  if (!probe) return own;
  const { instrument } = probe;
  return instrument.kind === 'ammeter'
    ? { ...own, around: instrument.around }
    : { ...own, lead: instrument.lead, tip: instrument.tip };
}

/** Right: the circuit, live for the chosen controls, as healthy or as it would be under a suspect. */
export function WiringPanel({ check, suspects, modelId = null }: Props) {
  const [suspectId, setSuspectId] = useState<string | null>(null);
  const [isSuspect, setIsSuspect] = useState(false);
  const [chosen, setChosen] = useState<string>();
  const tableId = useId();
  const suspect = suspects.find(({ causeId }) => causeId === suspectId) ?? suspects[0] ?? null;
  const wiring = useWiring(check, modelId, [
    ...(suspect ? [suspect.causeId] : []),
    ...suspects.map(({ causeId }) => causeId).filter((causeId) => causeId !== suspect?.causeId),
  ]);
  const { healthy, circuit } = wiring;
  const failed = wiring.list.error ?? healthy.error ?? wiring.suspect.error;
  const under = known(wiring.suspect.data, circuit?.circuitId);
  const base = known(healthy.data, circuit?.circuitId);
  const shown = isSuspect && under ? under : base;
  // While the causes are still on their way nothing can be said about the wiring.
  const hasNone = wiring.list.isSuccess && !circuit && (check !== null || suspects.length > 0);

  if (wiring.list.isSuccess && wiring.circuits.length === 0) {
    return (
      <>
        <ColumnTitle>The wiring</ColumnTitle>
        <ExpectedTable check={check} suspects={suspects} />
        <Empty title="No circuit is drawn for this machine.">Circuits are kept in the Handbook.</Empty>
      </>
    );
  }
  return (
    <div data-wiring="">
      <ColumnTitle>The wiring</ColumnTitle>
      <label className={styles.pick}>
        <span className="unseen">Circuit</span>
        <select value={circuit?.circuitId ?? ''} onChange={(event) => wiring.choose(event.target.value)}>
          {circuit ? null : <option value="">Choose a circuit to look at</option>}
          {wiring.circuits.map((each) => (
            <option key={each.circuitId} value={each.circuitId}>
              {each.title}
            </option>
          ))}
        </select>
      </label>
      {hasNone ? (
        <Empty title="No wiring to look at here.">
          This check probes no wire, and none of the likeliest causes lies in a circuit that is drawn for this
          machine. Any circuit can be chosen above.
        </Empty>
      ) : null}
      {circuit ? (
        <SuspectSwitch
          suspects={suspects}
          suspect={suspect}
          isSuspect={isSuspect}
          state={under?.cause}
          onSide={setIsSuspect}
          onSuspect={(causeId) => {
            setSuspectId(causeId);
            setIsSuspect(true);
          }}
        />
      ) : null}
      {failed ? <ProblemNote problem={failed} onRetry={() => void healthy.refetch()} /> : null}
      {shown && base ? (
        <>
          {shown.state.chatter ? (
            <p className={styles.note}>
              <b>Chatter.</b> The contact pulls in and lets go again and again; volts do not settle.
            </p>
          ) : null}
          {shown.state.overloads.map((each) => (
            <p key={each.component} className={styles.note}>
              <b>Overload.</b> {titleOf(shown, each.component)} carries {each.amps.toFixed(0)} A and is rated{' '}
              {each.rating_a} A.
            </p>
          ))}
          <DrawingFrame
            draw={shown}
            healthy={base}
            marks={marksOf(wiring.probe, chosen)}
            describedBy={tableId}
            drawnAs={shown === base ? 'healthy' : `if: ${suspect?.title ?? ''}`}
            onSet={wiring.set}
            onChoose={setChosen}
          />
          <ControlButtons draw={shown} onSet={wiring.set} onPart={wiring.part} />
          <ExpectedTable check={check} suspects={suspects} />
          <PointTable
            id={tableId}
            healthy={base}
            suspect={under && under.cause === 'faults' ? under : null}
            suspectTitle={suspect?.title ?? ''}
            chosen={chosen}
            onChoose={setChosen}
          />
        </>
      ) : failed ? null : hasNone ? (
        <ExpectedTable check={check} suspects={suspects} />
      ) : (
        <Waiting what="Drawing the wiring" />
      )}
    </div>
  );
}

/** An answer kept from the circuit before is not shown as this one's. */
function known(draw: CircuitDraw | undefined, circuitId: string | undefined): CircuitDraw | null {
  return draw && draw.drawing.circuitId === circuitId ? draw : null;
}

function titleOf(draw: CircuitDraw, component: string): string {
  return draw.drawing.symbols.find((each) => each.component === component)?.title ?? component;
}
