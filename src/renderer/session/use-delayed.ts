import { useEffect, useState } from 'react';

/** The value, once it has rested for `ms`: keeps a lookup from running at every key. */
export function useDelayed<T>(value: T, ms = 140): T {
  const [rested, setRested] = useState(value);
  useEffect(() => {
    const timer = setTimeout(() => setRested(value), ms);
    return () => clearTimeout(timer);
  }, [value, ms]);
  return rested;
}
