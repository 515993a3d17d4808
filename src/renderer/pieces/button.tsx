import type { ButtonHTMLAttributes, ReactNode } from 'react';
import styles from './button.module.css';

interface Props extends ButtonHTMLAttributes<HTMLButtonElement> {
  /** `main` is the one copper button of a screen. */
  look?: 'main' | 'plain' | 'quiet';
  size?: 'bench' | 'row';
  children: ReactNode;
}

export function Button({ look = 'plain', size = 'bench', className = '', children, ...rest }: Props) {
  return (
    <button
      type="button"
      {...rest}
      className={`${styles.button} ${styles[look]} ${styles[size]} ${className}`}
    >
      {children}
    </button>
  );
}
