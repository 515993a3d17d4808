import { useNavigate, useParams } from 'react-router';
import { Empty } from '../pieces/empty.tsx';
import { EditEntry } from './edit-entry.tsx';

/** What a new entry starts from; every field that must be there stands in it. */
const patterns: Readonly<Record<string, string>> = {
  cause: `id: my-new-cause
title: What is wrong, in the trade's words
system: starting
component: starter-relay
fault_mode: open
shows: How it shows, in one or two sentences.
repair:
  title: What is done about it
  steps: [First step, second step]
  minutes: 20
  parts: []
  proof: What is retested, how, how long
cautions: []
basis: shop-measured
`,
  check: `id: my-new-check
title: What is done, in a few words
system: starting
kind: look
instrument: none
phone: false
place: Where to look
minutes: 2
steps: [A step a beginner can follow]
healthy: What a healthy machine shows
cautions: []
outcomes:
  - {id: good, title: As it should be, means: what that says, healthy: 0.95}
  - {id: bad, title: Not as it should be, means: what that says, healthy: 0.05}
when:
  starter-relay-coil-open: {bad: 0.9}
basis: shop-measured
`,
  spec: `id: my-new-value
title: What is measured
component: battery
quantity: voltage
unit: V
low: 12.4
high: 12.9
conditions: at rest, 20 °C
basis: shop-measured
`,
  caution: `id: my-new-caution
signal: NOTICE
hazard: What can go wrong, and what it does.
avoid: What to do so that it does not.
`,
  model: `id: my-new-model
maker: Maker
name: Model
family: pellan-125-air
years: [2015, 2024]
aliases: []
circuits: []
basis: shop-measured
`,
  'part-kind': `id: my-new-part-kind
title: What it is called
typical_price: "10.00"
basis: shop-measured
`,
  component: `id: my-new-component
title: What it is called
system: starting
hazards: []
`,
  question: `id: my-new-question
ask: The one question that separates them?
answers:
  - {say: One answer, symptom: start-click}
  - {say: The other answer, symptom: start-chatter}
`,
};

/** A new entry of the handbook, from a pattern with every field that must be there. */
export function NewEntry() {
  const { kind = 'cause' } = useParams();
  const navigate = useNavigate();
  const pattern = patterns[kind];
  if (pattern === undefined)
    return (
      <Empty title="Entries of this kind are not written here.">
        Symptoms and circuits are edited where they are; riders’ words are learned at the Counter.
      </Empty>
    );
  return (
    <article>
      <h1>A new {kind.replace('-', ' ')}</h1>
      <p>Change every line to what it is. It is checked against the whole book before it is saved.</p>
      <EditEntry
        key={kind}
        kind={kind}
        id={null}
        yaml={pattern}
        onDone={(id) => void navigate(id === null ? '/handbook' : `/handbook/${kind}/${id}`)}
      />
    </article>
  );
}
