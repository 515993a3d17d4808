import { applyTheme, type Theme, useTheme } from '../session/theme.ts';
import styles from './theme-switch.module.css';

const next: Record<Theme, Theme> = { system: 'light', light: 'dark', dark: 'system' };
const words: Record<Theme, string> = { system: 'as this computer', light: 'light', dark: 'dark' };

/** Light, dark, or as the computer has it. */
export function ThemeSwitch() {
  const theme = useTheme();
  return (
    <button
      type="button"
      className={styles.switch}
      title={`Colors: ${words[theme]}. Press for ${words[next[theme]]}.`}
      aria-label={`Colors: ${words[theme]}. Press for ${words[next[theme]]}.`}
      onClick={() => applyTheme(next[theme])}
    >
      <svg width="20" height="20" viewBox="0 0 20 20" aria-hidden="true">
        <circle
          cx="10"
          cy="10"
          r="7.5"
          fill={theme === 'dark' ? 'currentColor' : 'none'}
          stroke="currentColor"
          strokeWidth="2"
        />
        {theme === 'system' ? <path d="M10 2.5a7.5 7.5 0 0 1 0 15Z" fill="currentColor" /> : null}
      </svg>
    </button>
  );
}
