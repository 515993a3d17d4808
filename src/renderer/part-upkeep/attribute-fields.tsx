import { useId, useState } from 'react';
import type { KindAttributeView } from '../../api/contract.ts';
import { attributeName } from '../parts/part-words.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { useRead } from '../session/use-read.ts';
import { sentence } from '../words/labels.ts';
import styles from './part-upkeep.module.css';

/** What is typed, by attribute; empty is not stated. */
export type Typed = Readonly<Record<string, string>>;

/** Typed attributes as numbers and words; a number that does not read is sent as it stands, so that the answer names it. */
export function attributesOf(typed: Typed): Record<string, string | number> {
  const stated = Object.entries(typed)
    .map(([name, text]) => [name, text.trim()] as const)
    .filter(([, text]) => text !== '');
  return Object.fromEntries(
    stated.map(([name, text]) => {
      const number = Number(text.replace(',', '.'));
      return [name, Number.isFinite(number) && !isWord(name) ? number : text];
    }),
  );
}
/** Only names that end with a unit, and counts, are numbers. */
const isWord = (name: string): boolean =>
  !/_(a|ah|v|w|ohm|mm|g|l|teeth|inch|deg_c)$/.test(name) && !/^(pieces|phases|coils)$/.test(name);

interface Props {
  kind: string;
  typed: Typed;
  onChange: (typed: Typed) => void;
}

function OneField(props: { one: KindAttributeView; value: string; onChange: (text: string) => void }) {
  const { one, value, onChange } = props;
  const list = useId();
  const range = one.low !== null && one.high !== null ? `${one.low} to ${one.high} ${one.unit}` : undefined;
  return (
    <Field label={`${sentence(one.title)}${one.unit ? `, ${one.unit}` : ''}`}>
      {(ids) => (
        <>
          <input
            {...ids}
            value={value}
            maxLength={60}
            inputMode={one.isNumber ? 'decimal' : 'text'}
            placeholder={range}
            list={one.usual.length > 0 ? list : undefined}
            autoComplete="off"
            onChange={(event) => onChange(event.target.value)}
          />
          {one.usual.length > 0 ? (
            <datalist id={list}>
              {one.usual.map((word) => (
                <option key={word} value={word} />
              ))}
            </datalist>
          ) : null}
        </>
      )}
    </Field>
  );
}

/** A kind that the program knows nothing of may state anything: the name carries the unit. */
function FreeFields({ typed, onChange }: Pick<Props, 'typed' | 'onChange'>) {
  const [name, setName] = useState('');
  const clean = name
    .trim()
    .toLowerCase()
    .replaceAll(/[\s-]+/g, '_');
  return (
    <>
      {Object.entries(typed).map(([known, value]) => (
        <Field key={known} label={attributeName(known)}>
          {(ids) => (
            <input
              {...ids}
              value={value}
              maxLength={60}
              onChange={(event) => onChange({ ...typed, [known]: event.target.value })}
            />
          )}
        </Field>
      ))}
      <Field label="Something else it states" hint="Such as length_mm, voltage_v or connector.">
        {(ids) => (
          <span className={styles.withButton}>
            <input {...ids} value={name} maxLength={40} onChange={(event) => setName(event.target.value)} />
            <Button
              size="row"
              disabled={clean === '' || clean in typed}
              onClick={() => {
                onChange({ ...typed, [clean]: '' });
                setName('');
              }}
            >
              Add a line
            </Button>
          </span>
        )}
      </Field>
    </>
  );
}

/** What decides whether the part fits in the place of another, as its kind asks. */
export function AttributeFields({ kind, typed, onChange }: Props) {
  const form = useRead('parts.form', kind === '' ? null : { kind }, { stale: 60_000 });
  const known = form.data?.attributes ?? [];
  if (kind === '' || !form.isSuccess) return null;
  return (
    <fieldset className={styles.fields}>
      <legend>What it states</legend>
      {known.length === 0 ? <FreeFields typed={typed} onChange={onChange} /> : null}
      {known.map((one) => (
        <OneField
          key={one.name}
          one={one}
          value={typed[one.name] ?? ''}
          onChange={(text) => onChange({ ...typed, [one.name]: text })}
        />
      ))}
    </fieldset>
  );
}
