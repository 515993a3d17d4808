import { client, queries } from '../session/client.ts';
import { say } from '../session/notices.ts';

const readAgain = (): void => {
  for (const shown of ['symptoms.find', 'handbook.learned']) {
    void queries.invalidateQueries({ queryKey: [shown] });
  }
};

async function forget(phraseId: string): Promise<void> {
  try {
    await client.call('handbook.unlearn', { phraseId });
    readAgain();
  } catch {
    say('The words could not be taken back. Take them back in the Handbook.');
  }
}

/** Gives the customer's words to the symptom that a person picked instead of the first match, with a way back. */
export async function learnWords(text: string, symptomId: string, title: string): Promise<void> {
  try {
    const { phraseId } = await client.call('symptoms.learn', { text, symptomId });
    readAgain();
    say(`The book remembers these words for “${title}”.`, {
      label: 'Do not remember',
      run: () => void forget(phraseId),
    });
  } catch {
    say('The book could not remember these words. The complaint itself is on the card.');
  }
}
