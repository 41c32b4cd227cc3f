import { CodeActionKind } from 'vscode-languageserver';
import { describeField } from '../../plan/describe.ts';
import type { Finding } from '../../rulebook/finding.ts';
import { endOf, startOf } from '../../text/span.ts';
import type { OpenDocument } from '../documents.ts';
import { walkTrees } from '../trees.ts';
import type { Offer } from './offer.ts';
import { isPlain, positionIn, sayPasted } from './pasted-position.ts';

/** Positions in a range that are written in another notation, each with the way a plan has it. */
export const offerPlainPositions = (
  document: OpenDocument,
  from: number,
  to: number,
  findings: readonly Finding[],
): readonly Offer[] =>
  [...walkTrees(document.trees.of(document), document.language)].flatMap(({ shape, path, node }): readonly Offer[] => {
    if (node.kind !== 'scalar' || node.style === 'block' || isPlain(node.text)) return [];
    const [start, end] = [startOf(node.span), endOf(node.span)];
    if (end < from || start > to) return [];
    const reads = describeField(shape, path)?.reads;
    if (reads !== 'position' && reads !== 'stands') return [];
    const read = positionIn(node.text);
    if (read === undefined) return [];
    const isInBraces = node.style === 'quoted';
    const written = sayPasted(read, 'block');
    const finding = findings.find(({ at }) => startOf(at) === start);
    return [
      {
        title: `Write "${written}" (was "${node.text}")`,
        kind: finding === undefined ? CodeActionKind.RefactorRewrite : CodeActionKind.QuickFix,
        edits: [{ from: start, to: end, text: isInBraces ? `"${written}"` : written }],
        ...(finding === undefined ? {} : { finding }),
      },
    ];
  });
