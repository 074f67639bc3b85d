/**
 * Items by a key of theirs, groups in the order in which their first item stands. As `Map.groupBy`, which Node 20 has not.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual([...groupBy([1, 2, 3], (n) => n % 2)], [[1, [1, 3]], [0, [2]]]);
 * ```
 */
export function groupBy<T, K>(items: Iterable<T>, keyOf: (item: T) => K): Map<K, T[]> {
  const groups = new Map<K, T[]>();
  for (const item of items) {
    const key = keyOf(item), group = groups.get(key);
    if (group === undefined) groups.set(key, [item]);
    else group.push(item);
  }
  return groups;
}
