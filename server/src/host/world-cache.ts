/** Something loaded and the memory it holds. */
export interface Sized<T> {
  readonly value: T;
  readonly bytes: number;
}

/**
 * What has been loaded once, shared by plans and edits. A key names the file, its version and the part of it, so that
 * nothing in here is ever stale. Failures are not kept.
 */
export interface WorldCache {
  get<T>(key: string, load: () => Promise<Sized<T>>): Promise<T>;
}

interface Entry {
  readonly work: Promise<Sized<unknown>>;
  bytes: number;
}

const MOST_ENTRIES = 4000;

/** A cache that forgets what was used longest ago once it holds more than `limit` bytes. */
export const worldCache = (limit = 256 * 1024 * 1024): WorldCache => {
  const entries = new Map<string, Entry>();
  let held = 0;
  const forget = (key: string): void => {
    held -= entries.get(key)?.bytes ?? 0;
    entries.delete(key);
  };
  const makeRoom = (): void => {
    for (const key of entries.keys()) {
      if (held <= limit && entries.size <= MOST_ENTRIES) return;
      forget(key);
    }
  };
  return {
    get: async <T>(key: string, load: () => Promise<Sized<T>>): Promise<T> => {
      const kept = entries.get(key);
      if (kept !== undefined) {
        entries.delete(key);
        entries.set(key, kept);
        // The key alone decides what was loaded under it, so the type is that of the first call.
        return (await (kept.work as Promise<Sized<T>>)).value;
      }
      const entry: Entry = { work: load(), bytes: 0 };
      entries.set(key, entry);
      try {
        const { value, bytes } = await (entry.work as Promise<Sized<T>>);
        if (entries.get(key) === entry) {
          entry.bytes = bytes;
          held += bytes;
          makeRoom();
        }
        return value;
      } catch (error) {
        if (entries.get(key) === entry) forget(key);
        throw error;
      }
    },
  };
};
