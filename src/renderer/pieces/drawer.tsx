import { type ReactNode, useEffect } from 'react';
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import { Button } from './button.tsx';
import styles from './drawer.module.css';

interface Props {
  title: string;
  isOpen: boolean;
  onClose: () => void;
  /** `side` slides over the right edge, `middle` stands in the middle of the window. */
  place?: 'side' | 'middle';
  /** What the button that leaves it says. */
  leave?: string;
  children: ReactNode;
}

/** A dialog: keeps the focus inside, closes with Escape, gives the focus back. */
export function Drawer({ title, isOpen, onClose, place = 'middle', leave = 'Cancel', children }: Props) {
  // Escape also works when the focus has gone with a button that vanished.
  useEffect(() => {
    if (!isOpen) return;
    const onKey = (event: KeyboardEvent): void => {
      if (event.key === 'Escape' && document.activeElement === document.body) onClose();
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, [isOpen, onClose]);
  return (
    <ModalOverlay
      className={styles.overlay ?? ''}
      isOpen={isOpen}
      isDismissable
      onOpenChange={(open) => {
        if (!open) onClose();
      }}
    >
      <Modal className={`${styles.modal} ${styles[place]}`}>
        <Dialog className={styles.dialog ?? ''}>
          <div className={styles.head}>
            <Heading slot="title" className={styles.title ?? ''}>
              {title}
            </Heading>
            <Button onClick={onClose}>{leave}</Button>
          </div>
          <div className={styles.body}>{children}</div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
