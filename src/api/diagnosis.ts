import { rankCauses } from '../diagnosis/index.ts';
import { keepLearnedWords } from '../store/index.ts';
import { planFor, rankInput } from './diagnosing.ts';
import type { Group } from './group.ts';
import { symptomOr404 } from './views.ts';

export const diagnosis = {
  'symptoms.find': async (desk, { text, modelId, limit }) => {
    const finder = await (await desk.book()).finder();
    return finder.find(text, { limit: limit ?? 8, ...(modelId === undefined ? {} : { modelId }) });
  },
  'symptoms.list': async (desk) => {
    const { book } = await desk.book();
    return {
      symptoms: [...book.symptoms.values()].map(({ id, system, title, meaning }) => ({
        symptomId: id,
        system,
        title,
        meaning,
      })),
    };
  },
  'symptoms.learn': async (desk, { text, symptomId }) => {
    const { book } = await desk.book();
    symptomOr404(book, symptomId);
    const now = desk.now();
    const phraseId = desk.newId();
    await keepLearnedWords(desk.db, {
      id: phraseId,
      symptom_id: symptomId,
      text,
      at_ms: now.ms,
      at_offset: now.offset,
      undone_ms: null,
    });
    await desk.office.shelf.touch(desk.db);
    return { phraseId };
  },
  'causes.rank': async (desk, input) => rankCauses(await rankInput(desk, input)),
  'checks.next': async (desk, input) => planFor(desk, input),
} satisfies Group<'symptoms.' | 'causes.' | 'checks.'>;
