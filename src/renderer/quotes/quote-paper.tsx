import { useState } from 'react';
import { Button } from '../pieces/button.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { client } from '../session/client.ts';
import { say } from '../session/notices.ts';
import styles from './quotes.module.css';

/** Hands a file to the browser's own download. */
function download(fileName: string, base64: string): void {
  const bytes = Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0));
  const address = URL.createObjectURL(new Blob([bytes], { type: 'application/pdf' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = fileName;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

/** The quote to hold in hand: as a PDF, or as text for a message. */
export function QuotePaper({ quoteId }: { quoteId: string }) {
  const [text, setText] = useState<string | null>(null);
  const [problem, setProblem] = useState<unknown>(null);
  const [isBusy, setBusy] = useState(false);
  const run = async (work: () => Promise<void>): Promise<void> => {
    setBusy(true);
    setProblem(null);
    try {
      await work();
    } catch (error) {
      setProblem(error);
    } finally {
      setBusy(false);
    }
  };
  const savePdf = async (): Promise<void> => {
    const { fileName, base64 } = await client.call('quotes.pdf', { quoteId });
    download(fileName, base64);
  };
  const showText = async (): Promise<void> => {
    const answer = await client.call('quotes.text', { quoteId });
    setText(answer.text);
    await navigator.clipboard.writeText(answer.text).then(
      () => say('The text was copied.'),
      () => say('Copy the text from the field below.'),
    );
  };
  return (
    <section className={styles.part} aria-label="Paper and message">
      <div className={styles.line}>
        <Button disabled={isBusy} onClick={() => void run(savePdf)}>
          Save as PDF
        </Button>
        <Button disabled={isBusy} onClick={() => void run(showText)}>
          Copy as text
        </Button>
      </div>
      <ProblemNote problem={problem} />
      {text === null ? null : (
        <textarea className={styles.text} aria-label="The quote as text" readOnly value={text} />
      )}
    </section>
  );
}
