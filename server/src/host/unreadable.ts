/**
 * A source that is there but cannot be used. The message finishes the sentence "<reference> ..." for the pilot, starts
 * with a lower-case verb and holds nothing of the source's content but numbers and names that its format defines.
 */
export class Unreadable extends Error {
  override readonly name = 'Unreadable';
}
