import { useState } from 'react';

const key = 'bench-tally.who-edits';

/** Who edits at this computer; remembered, since it is mostly the same person. */
export function useWhoEdits(): [string, (name: string) => void] {
  const [who, setWho] = useState(() => localStorage.getItem(key) ?? '');
  return [
    who,
    (name) => {
      setWho(name);
      localStorage.setItem(key, name);
    },
  ];
}

/** What reads differently once the handbook has changed. */
export const handbookReads = [
  'handbook.browse',
  'handbook.read',
  'handbook.check',
  'handbook.coverage',
  'handbook.history',
  'handbook.compare',
  'handbook.learned',
  'symptoms.list',
  'symptoms.find',
  'models.list',
  'shop.status',
  'causes.rank',
  'checks.next',
] as const;
