/** A cache of at most so many values by key: where one more is set, the one least recently read or set is deleted. */
export class LeastRecentlyUsed<Value extends object | string> {
  /** The least recently used first. */
  readonly #values = new Map<string, Value>();

  constructor(private readonly capacity: number) {}

  get(key: string): Value | undefined {
    const value = this.#values.get(key);
    if (value !== undefined) this.set(key, value);
    return value;
  }

  set(key: string, value: Value): void {
    this.#values.delete(key);
    this.#values.set(key, value);
    const [oldest] = this.#values.keys();
    if (this.#values.size > this.capacity && oldest !== undefined) this.#values.delete(oldest);
  }

  /** Deletes the key's value if it is still this one: after a promise rejected, a newer one may have taken its place. */
  deleteIfSame(key: string, value: Value): void {
    if (this.#values.get(key) === value) this.#values.delete(key);
  }
}
