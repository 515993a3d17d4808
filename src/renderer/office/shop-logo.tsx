import { useRef } from 'react';
import { Button } from '../pieces/button.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { useWrite } from '../session/use-write.ts';
import { bytesWords } from '../words/units.ts';
import styles from './settings-page.module.css';

const changes = ['quotes.logo'] as const;

async function base64Of(file: File): Promise<string> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  let text = '';
  // In pieces: a call with hundreds of thousands of arguments is refused.
  for (let at = 0; at < bytes.length; at += 8192)
    text += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return btoa(text);
}

/** The picture at the head of quotes. What the file is decides its bytes, never its name. */
export function ShopLogo() {
  const kept = useRead('quotes.logo', {});
  const write = useWrite('quotes.logo', changes);
  const input = useRef<HTMLInputElement>(null);
  const logo = kept.data?.logo ?? null;
  const take = async (file: File | undefined): Promise<void> => {
    if (file) await write.run({ base64: await base64Of(file) });
    if (input.current) input.current.value = '';
  };
  return (
    <div className={styles.logo}>
      {logo ? (
        <img
          className={styles.picture}
          alt="The shop's own, as it is printed"
          src={`data:image/${logo.kind};base64,${logo.base64}`}
        />
      ) : null}
      <label className={styles.file}>
        <span>Picture for the head of quotes, PNG or JPEG up to 300 kB</span>
        <input
          ref={input}
          type="file"
          accept="image/png,image/jpeg"
          disabled={write.isBusy}
          onChange={(event) => void take(event.target.files?.[0])}
        />
      </label>
      {logo ? (
        <p className={styles.line}>
          <span className={styles.soft}>
            {logo.width} × {logo.height} pixels, {bytesWords(logo.bytes)}
          </span>
          <Button
            size="row"
            look="quiet"
            disabled={write.isBusy}
            onClick={() => void write.run({ base64: null })}
          >
            Take the picture away
          </Button>
        </p>
      ) : null}
      <ProblemNote problem={kept.error ?? write.problem} />
    </div>
  );
}
