/**
 * Counts of causes summed into larger groups (component, system). A concern with several causes of one group is counted
 * once: those concerns are handed over apart, and what they count too often is taken away again.
 * @param groupOf null leaves a cause out
 */
export function sumIntoGroups(
  causes: readonly { readonly key: string | null; readonly concerns: number }[],
  several: readonly (readonly (string | null)[])[],
  groupOf: (causeId: string | null) => string | null,
): Map<string, number> {
  const sums = new Map<string, number>();
  const add = (group: string | null, concerns: number): void => {
    if (group !== null) sums.set(group, (sums.get(group) ?? 0) + concerns);
  };
  for (const { key, concerns } of causes) add(groupOf(key), concerns);
  for (const causeIds of several) {
    const groups = [...new Set(causeIds)].map(groupOf);
    for (const group of new Set(groups)) add(group, 1 - groups.filter((one) => one === group).length);
  }
  return sums;
}
