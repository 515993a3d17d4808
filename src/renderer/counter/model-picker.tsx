import { useState } from 'react';
import { ComboBox, Input, Label, ListBox, ListBoxItem, Popover } from 'react-aria-components';
import { useRead } from '../session/use-read.ts';
import styles from './model-picker.module.css';

interface Props {
  modelId: string | null;
  words: string;
  /** Whether the cursor starts here. */
  startHere: boolean;
  onChange: (model: { modelId: string | null; modelWords: string }) => void;
}

/** A model of the book, or its name in words where the book lacks it. */
export function ModelPicker({ modelId, words, startHere, onChange }: Props) {
  const models = useRead('models.list', {}, { stale: 60_000 });
  const title = models.data?.models.find((model) => model.modelId === modelId)?.title;
  const [text, setText] = useState(title ?? words);
  return (
    <ComboBox
      className={styles.picker ?? ''}
      allowsCustomValue
      autoFocus={startHere}
      menuTrigger="focus"
      defaultFilter={(title, typed) =>
        typed
          .toLowerCase()
          .split(/\s+/)
          .every((word) => title.toLowerCase().includes(word))
      }
      inputValue={text}
      selectedKey={modelId}
      defaultItems={models.data?.models ?? []}
      onInputChange={(next) => {
        setText(next);
        if (next !== title) onChange({ modelId: null, modelWords: next });
      }}
      onSelectionChange={(key) => {
        const picked = models.data?.models.find((model) => model.modelId === key);
        if (!picked) return;
        setText(picked.title);
        onChange({ modelId: picked.modelId, modelWords: picked.title });
      }}
    >
      <Label>Model</Label>
      <Input placeholder="Maker and model" />
      <p className={styles.hint}>
        {modelId || text === '' ? '' : 'Not in the book: the ranking uses all machines.'}
      </p>
      <Popover className={styles.popover ?? ''}>
        <ListBox className={styles.list ?? ''}>
          {(model: { modelId: string; title: string; family: string }) => (
            <ListBoxItem id={model.modelId} textValue={model.title} className={styles.item ?? ''}>
              <span>{model.title}</span>
              <span className={styles.family}>{model.family}</span>
            </ListBoxItem>
          )}
        </ListBox>
      </Popover>
    </ComboBox>
  );
}
