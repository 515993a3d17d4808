import type { Book, SeparatingQuestion, Symptom } from '../../../src/book/index.ts';
import type { CauseId, SymptomId } from '../../../src/terms.ts';

const symptom = (id: string, title: string, meaning: string): Symptom => ({
  id: id as SymptomId,
  system: 'starting',
  title,
  meaning,
  related: [],
  priors: [],
  lacks: [],
  unlistedOf100: 5,
});

const phrases: Record<string, readonly string[]> = {
  'start-click': [
    'one click when i press the button',
    'single click, motor does not turn',
    'relay clicks once',
    'press start, one click and nothing',
    'just one click from under the seat',
    'a single clunk each time i press',
  ],
  'start-chatter': [
    'fast clicking when i press the button',
    'rapid clicking like a machine gun',
    'relay chatters',
    'tick tick tick tick very fast',
    'many clicks, lights flicker',
    'clicks quickly as long as i press',
  ],
  'horn-dead': [
    'horn does not sound',
    'no horn',
    'horn is silent when pressed',
    'hooter dead',
    'horn only croaks',
    'the horn makes no noise',
  ],
};

/** Three symptoms, six phrases each, and a few texts out of scope. */
export function smallBook(changes: Partial<Book> = {}): Book {
  return {
    version: 'small',
    symptoms: new Map(
      [
        symptom('start-click', 'One click but the starter does not turn', 'A single click on each press'),
        symptom(
          'start-chatter',
          'Rapid clicking on start',
          'Fast repeated clicking while the button is held',
        ),
        symptom('horn-dead', 'Horn does not sound', 'Horn weak or silent'),
      ].map((entry) => [entry.id, entry]),
    ),
    causes: new Map(),
    checks: new Map(),
    specs: new Map(),
    preconditions: new Map(),
    cautions: new Map(),
    components: new Map(),
    partKinds: new Map(),
    models: new Map(),
    families: new Map(),
    questions: [clickQuestion],
    phrases: new Map(Object.entries(phrases)) as unknown as Book['phrases'],
    outOfScope: [
      'do you sell bread',
      'what time do you open',
      'my car needs a wash',
      'good morning to all of you',
    ],
    electricDrive: [
      'my e-scooter does not charge',
      'hub motor cuts out',
      'electric moped battery pack error',
    ],
    circuits: new Map(),
    ...changes,
  };
}

export const clickQuestion: SeparatingQuestion = {
  id: 'click-how-often',
  ask: 'What do you hear while the start button is held?',
  answers: [
    { say: 'One click, then nothing', symptomId: 'start-click' as SymptomId },
    { say: 'A fast rattle of clicks', symptomId: 'start-chatter' as SymptomId },
  ],
};

export const causeId = (id: string): CauseId => id as CauseId;
