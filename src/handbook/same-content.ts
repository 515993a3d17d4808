/** True when two parsed YAML values hold the same; the order of fields in a mapping does not matter, that of lists does. */
export function sameContent(one: unknown, other: unknown): boolean {
  if (Object.is(one, other)) return true;
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null)
    return one === other;
  if (Array.isArray(one) || Array.isArray(other)) {
    if (!Array.isArray(one) || !Array.isArray(other)) return false;
    return one.length === other.length && one.every((item, index) => sameContent(item, other[index]));
  }
  const names = definedNames(one);
  const others = other as Record<string, unknown>;
  return (
    names.length === definedNames(other).length &&
    names.every(
      (name) =>
        Object.hasOwn(other, name) && sameContent((one as Record<string, unknown>)[name], others[name]),
    )
  );
}

/** A field that is there without a value is the same as none. */
const definedNames = (value: object): string[] =>
  Object.entries(value).flatMap(([name, each]) => (each === undefined ? [] : [name]));

export const isMapping = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
