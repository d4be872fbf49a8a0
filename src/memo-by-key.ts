/** Computes a value once per key object, and keeps it for as long as the key lives. The key must not change. */
export function memoByKey<K extends object, V>(compute: (key: K) => V): (key: K) => V {
  const values = new WeakMap<K, V>();
  return (key) => {
    let value = values.get(key);
    if (value === undefined) {
      value = compute(key);
      values.set(key, value);
    }
    return value;
  };
}
