import { useEffect, useState } from 'react';
import { Button } from '../pieces/button.tsx';
import { Drawer } from '../pieces/drawer.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { client } from '../session/client.ts';
import { say } from '../session/notices.ts';
import styles from './quotes.module.css';

interface Made {
  readonly fileName: string;
  readonly address: string;
}

const fileOf = (base64: string): Blob =>
  new Blob([Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0))], { type: 'application/pdf' });

/** Hands a file to the browser's own download. */
function save({ fileName, address }: Made): void {
  const link = document.createElement('a');
  link.href = address;
  link.download = fileName;
  link.click();
}

interface Props {
  quoteId: string;
  /** An earlier version as it was handed out; left out: the present one. */
  issue?: number;
  /** Keeps what is being typed before it is printed. */
  flush?: () => Promise<boolean>;
}

/** The quote to hold in hand: looked at, saved as a PDF, or as text for a message. */
export function PdfButtons({ quoteId, issue, flush }: Props) {
  const [made, setMade] = useState<Made | null>(null);
  const [isShown, setShown] = useState(false);
  const [missing, setMissing] = useState('');
  const [text, setText] = useState<string | null>(null);
  const [problem, setProblem] = useState<unknown>(null);
  const [isBusy, setBusy] = useState(false);
  const which = { quoteId, ...(issue === undefined ? {} : { issue }) };
  useEffect(() => {
    if (!made) return;
    // The browser reads a saved file after the click; a minute later nobody needs the address.
    return () => void setTimeout(() => URL.revokeObjectURL(made.address), 60_000);
  }, [made]);
  const run = async (work: () => Promise<void>): Promise<void> => {
    setBusy(true);
    setProblem(null);
    try {
      if (flush && !(await flush())) say('What cannot be read above is not on the paper yet.');
      await work();
    } catch (error) {
      setProblem(error);
    } finally {
      setBusy(false);
    }
  };
  const make = async (): Promise<Made> => {
    const answer = await client.call('quotes.pdf', which);
    const next = { fileName: answer.fileName, address: URL.createObjectURL(fileOf(answer.base64)) };
    setMade(next);
    setMissing(answer.missing);
    return next;
  };
  const show = async (): Promise<void> => {
    await make();
    setShown(true);
  };
  const showText = async (): Promise<void> => {
    const answer = await client.call('quotes.text', which);
    setText(answer.text);
    await navigator.clipboard.writeText(answer.text).then(
      () => say('The text was copied.'),
      () => say('Copy the text from the field below.'),
    );
  };
  const of = issue === undefined ? '' : ` of version ${issue}`;
  return (
    <div className={styles.part}>
      <div className={styles.line}>
        <Button
          size="row"
          disabled={isBusy}
          aria-label={`Look at the PDF${of}`}
          onClick={() => void run(show)}
        >
          Look at the PDF
        </Button>
        <Button
          size="row"
          disabled={isBusy}
          aria-label={`Save as PDF${of}`}
          onClick={() => void run(async () => save(await make()))}
        >
          Save as PDF
        </Button>
        <Button
          size="row"
          disabled={isBusy}
          aria-label={`Copy as text${of}`}
          onClick={() => void run(showText)}
        >
          Copy as text
        </Button>
      </div>
      <ProblemNote problem={problem} />
      {missing ? (
        <p role="alert">
          The typeface for paper has no sign for {[...missing].join(' ')}; a question mark is printed in its
          place. Write the name in Latin, Cyrillic or Greek letters, or send the quote as text.
        </p>
      ) : null}
      {text === null ? null : (
        <textarea className={styles.text} aria-label="The quote as text" readOnly value={text} />
      )}
      {made ? (
        <Drawer title={made.fileName} isOpen={isShown} onClose={() => setShown(false)} leave="Done">
          <iframe className={styles.preview} title="The quote as a PDF" src={made.address} />
          <div className={styles.line}>
            <Button onClick={() => save(made)}>Save as PDF</Button>
            <span className={styles.soft}>The viewer above prints it.</span>
          </div>
        </Drawer>
      ) : null}
    </div>
  );
}
