import type { KeyboardEvent, RefObject } from 'react';
import styles from './counter-field.module.css';

interface Props {
  input: RefObject<HTMLInputElement | null>;
  text: string;
  placeholder: string;
  isOpen: boolean;
  activeId: string | undefined;
  onText: (text: string) => void;
  onMove: (by: 1 | -1) => void;
  onTake: () => void;
}

/** The one field of the Counter. Down and up move through what was found on both sides, Enter takes it. */
export function CounterField({ input, text, placeholder, isOpen, activeId, onText, onMove, onTake }: Props) {
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
      event.preventDefault();
      onMove(event.key === 'ArrowDown' ? 1 : -1);
    } else if (event.key === 'Enter' && !event.ctrlKey && !event.metaKey) {
      event.preventDefault();
      onTake();
    } else if (event.key === 'Escape') {
      onText('');
    }
  };
  return (
    <input
      ref={input}
      className={styles.field}
      role="combobox"
      aria-label="Plate, name, phone, part, or what the customer says"
      aria-autocomplete="list"
      aria-expanded={isOpen}
      aria-controls="counter-people counter-symptoms"
      aria-activedescendant={activeId}
      autoComplete="off"
      spellCheck={false}
      maxLength={4000}
      placeholder={placeholder}
      value={text}
      onChange={(event) => onText(event.target.value)}
      onKeyDown={onKeyDown}
    />
  );
}
