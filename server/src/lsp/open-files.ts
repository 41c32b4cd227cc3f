import type { FileStat, Files } from '../world/files.ts';
import type { OpenDocument } from './documents.ts';

/**
 * Files in which the text that is open in the editor beats what is saved. A document may be open under a link, while
 * the loaders ask for the file with links resolved; both names find it.
 */
export class OpenFiles implements Files {
  readonly #files: Files;
  readonly #open = new Map<string, OpenDocument>();
  readonly #real = new Map<string, Promise<string>>();
  readonly readPart?: NonNullable<Files['readPart']>;

  constructor(files: Files) {
    this.#files = files;
    const part = files.readPart?.bind(files);
    if (part === undefined) return;
    this.readPart = async (location, offset, length) => {
      const open = await this.#find(location);
      if (open === undefined) return part(location, offset, length);
      return new TextEncoder().encode(open.text).subarray(offset, offset + length);
    };
  }

  put(document: OpenDocument): void {
    const { location } = document;
    this.#open.set(location, document);
    if (this.#real.has(location)) return;
    this.#real.set(
      location,
      this.#files.real(location).catch(() => location),
    );
  }

  remove(location: string): void {
    this.#open.delete(location);
    this.#real.delete(location);
  }

  /** The open document at a location, under whichever of its names. */
  async #find(location: string): Promise<OpenDocument | undefined> {
    const direct = this.#open.get(location);
    if (direct !== undefined) return direct;
    for (const [name, real] of [...this.#real]) {
      if ((await real) === location) return this.#open.get(name);
    }
    return undefined;
  }

  resolve(document: string, reference: string): string {
    return this.#files.resolve(document, reference);
  }

  async real(location: string): Promise<string> {
    try {
      return await this.#files.real(location);
    } catch (error) {
      // Open, but not saved yet: there is no link to resolve.
      if (this.#open.has(location)) return location;
      throw error;
    }
  }

  async stat(location: string): Promise<FileStat | undefined> {
    const open = await this.#find(location);
    if (open === undefined) return this.#files.stat(location);
    return { kind: 'file', size: open.text.length, version: `open:${open.serial}` };
  }

  list(folder: string): Promise<readonly string[]> {
    return this.#files.list(folder);
  }

  async read(location: string): Promise<Uint8Array> {
    const open = await this.#find(location);
    return open === undefined ? this.#files.read(location) : new TextEncoder().encode(open.text);
  }
}
