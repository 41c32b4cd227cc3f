import { type Span, startOf } from '../text/span.ts';
import type { Path, Shape } from './describe.ts';
import type { SlipDetails } from './scalars/reading.ts';
import type { Slip } from './slip.ts';
import type { BareSlip, TreeNode } from './tree.ts';

/**
 * What the reader has to say of one document or item. It holds that whatever is refused is told once: a node that has
 * its slip is unread, and nothing that is read later of the same node adds another.
 */
export class Notes {
  readonly shape: Shape;
  /** The subject of slips at the top: "the plan", "point ridge". */
  readonly subject: string;
  /** True where a syntax error stands: what seems to be missing may stand behind it. */
  readonly broken: boolean;
  readonly slips: Slip[] = [];
  readonly unread: Span[] = [];
  readonly #told = new Set<TreeNode>();

  constructor(shape: Shape, subject: string, tree: { readonly slips: readonly BareSlip[]; readonly broken: boolean }) {
    this.shape = shape;
    this.subject = subject;
    this.broken = tree.broken;
    for (const slip of tree.slips) {
      this.slips.push({ ...slip, subject });
      this.unread.push(slip.span);
    }
  }

  /** Tells why a node is not read. */
  refuse(node: TreeNode, path: Path, slip: SlipDetails, span: Span = node.span): void {
    if (this.#told.has(node)) return;
    this.leaveOut(node);
    this.tell(path, { ...slip, span });
  }

  /** Marks a node as unread whose slip stands elsewhere. */
  leaveOut(node: TreeNode): void {
    if (this.#told.has(node)) return;
    this.#told.add(node);
    this.unread.push(node.span);
  }

  /** Tells something about a place without a value of its own, such as a key that is missing. */
  tell(path: Path, slip: SlipDetails & { readonly span: Span }): void {
    this.slips.push({ ...slip, ...this.#place(path) });
  }

  isTold(node: TreeNode): boolean {
    return this.#told.has(node);
  }

  hasSlipWithin(span: Span): boolean {
    const { anchor, from, to } = span;
    return this.slips.some((slip) => slip.span.anchor === anchor && slip.span.from >= from && slip.span.to <= to);
  }

  /** "crew pilot" and "tested"; inside an item, the item and "leg speed". List positions count from 1. */
  #place(path: Path): { readonly subject: string; readonly field?: string } {
    const words = path.map((step) => (typeof step === 'number' ? String(step + 1) : step));
    const last = words.at(-1);
    if (last === undefined) return { subject: this.subject };
    if (this.shape !== 'mission' || words.length === 1) return { subject: this.subject, field: words.join(' ') };
    return { subject: words.slice(0, -1).join(' '), field: last };
  }
}

export const inTextOrder = (slips: readonly Slip[]): readonly Slip[] =>
  [...slips].sort((one, other) => startOf(one.span) - startOf(other.span));
