/** True when some machine meets both conditions: every trait that both name has a value in common. */
export function existsOnBoth(
  one: Readonly<Record<string, readonly unknown[] | undefined>>,
  other: Readonly<Record<string, readonly unknown[] | undefined>>,
): boolean {
  return Object.entries(one).every(([trait, values]) => {
    const others = other[trait];
    return !values || !others || values.some((value) => others.includes(value));
  });
}
