import { Lines } from '../../server/src/text/lines.ts';

/**
 * Fixtures are Markdown that reads as a specification: a heading is a sentence, a `yaml plan` block is the plan, and
 * under a line of it stand the findings expected there:
 *
 *       altitude: 130 m AGL
 *                 ^^^^^^^^^ point-above-height-limit: 130 m above ground
 *
 * Carets mark the exact span; the text after the rule is a part of the message. `? rule-id: reason` expects a gap that
 * stands on the line above. A block that does not begin with `mission:` is put below the standard head; keys that it
 * states replace those of the head, and `without=key,key` in the block's first line drops keys of the head.
 * `yaml world` gives the world for the plans after it; `yaml mended` the plan after the first fix of the first finding,
 * or after the fix whose title holds the text of `fix="..."`.
 */
export interface FixtureCase {
  readonly title: string;
  readonly text: string;
  readonly findings: readonly ExpectedFinding[];
  readonly gaps: readonly ExpectedGap[];
  readonly world: string;
  readonly mended?: { readonly text: string; readonly fix: string | undefined };
}

export interface ExpectedFinding {
  readonly rule: string;
  readonly part: string;
  readonly from: number;
  readonly to: number;
}

export interface ExpectedGap {
  readonly rule: string;
  readonly part: string;
  /** Counted from 0. */
  readonly line: number;
}

interface Block {
  readonly info: string;
  readonly body: string;
  readonly heading: string;
}

const blocksOf = (markdown: string): readonly Block[] => {
  const blocks: Block[] = [];
  let heading = '';
  let open: { info: string; lines: string[] } | undefined;
  for (const line of markdown.split(/\r?\n/)) {
    if (open !== undefined) {
      if (/^```\s*$/.test(line)) {
        blocks.push({ info: open.info, body: `${open.lines.join('\n')}\n`, heading });
        open = undefined;
      } else open.lines.push(line);
      continue;
    }
    const title = /^#{1,6}\s+(.*)$/.exec(line);
    const fence = /^```(yaml .*)$/.exec(line);
    if (title !== null) heading = title[1] ?? '';
    else if (fence !== null) open = { info: fence[1] ?? '', lines: [] };
  }
  if (open !== undefined) throw new Error(`the fixture's block under "${heading}" is not closed`);
  return blocks;
};

const ANNOTATION = /^(\s*)#?(\s*)(\^+|\?)\s+([a-z][a-z0-9-]*)(?::\s*(.*))?$/;

interface Marked {
  readonly lines: readonly string[];
  readonly marks: readonly {
    readonly line: number;
    readonly from: number;
    readonly to: number;
    readonly gap: boolean;
    readonly rule: string;
    readonly part: string;
  }[];
}

const marksOf = (body: string): Marked => {
  const lines: string[] = [];
  const marks: Marked['marks'][number][] = [];
  for (const line of body.replace(/\n$/, '').split('\n')) {
    const found = ANNOTATION.exec(line);
    if (found === null) {
      lines.push(line);
      continue;
    }
    const sign = found[3] ?? '';
    const from = line.indexOf(sign);
    marks.push({
      line: lines.length - 1,
      from,
      to: from + sign.length,
      gap: sign === '?',
      rule: found[4] ?? '',
      part: found[5] ?? '',
    });
  }
  return { lines, marks };
};

/** The top-level keys of a text, each with its lines. */
const sectionsOf = (
  lines: readonly string[],
): readonly { readonly key: string; readonly lines: readonly string[] }[] => {
  const sections: { key: string; lines: string[] }[] = [];
  for (const line of lines) {
    const key = /^([a-z][a-z-]*):/.exec(line)?.[1];
    const last = sections[sections.length - 1];
    if (key !== undefined || last === undefined) sections.push({ key: key ?? '', lines: [line] });
    else last.lines.push(line);
  }
  return sections;
};

/** The plan's text of a block, and how many lines the head takes before it. */
const compose = (
  lines: readonly string[],
  info: string,
  head: string,
): { readonly text: string; readonly shift: number } => {
  const body = `${lines.join('\n')}\n`;
  if (/\bwhole\b/.test(info) || lines.some((line) => line.startsWith('mission:'))) return { text: body, shift: 0 };
  const dropped = new Set((/\bwithout=(\S+)/.exec(info)?.[1] ?? '').split(','));
  for (const { key } of sectionsOf(lines)) dropped.add(key);
  const kept = sectionsOf(head.replace(/\n$/, '').split('\n')).filter(({ key }) => !dropped.has(key));
  const headLines = kept.flatMap((section) => section.lines);
  return { text: `${headLines.join('\n')}\n${body}`, shift: headLines.length };
};

/** All cases of a fixture file. */
export const parseFixture = (markdown: string, standardHead: string, standardWorld: string): readonly FixtureCase[] => {
  const cases: FixtureCase[] = [];
  let head = standardHead;
  let world = standardWorld;
  let worldHeading: string | undefined;
  for (const block of blocksOf(markdown)) {
    if (worldHeading !== undefined && worldHeading !== block.heading) {
      world = standardWorld;
      worldHeading = undefined;
    }
    if (block.info.startsWith('yaml head')) head = block.body;
    else if (block.info.startsWith('yaml world')) {
      world = block.body;
      worldHeading = block.heading;
    } else if (block.info.startsWith('yaml mended')) {
      const last = cases.pop();
      if (last === undefined) throw new Error(`a mended text without a plan under "${block.heading}"`);
      const { text } = compose(marksOf(block.body).lines, block.info, head);
      cases.push({ ...last, mended: { text, fix: /fix="([^"]*)"/.exec(block.info)?.[1] } });
    } else if (block.info.startsWith('yaml plan')) {
      const { lines, marks } = marksOf(block.body);
      const { text, shift } = compose(lines, block.info, head);
      const index = new Lines(text);
      cases.push({
        title: block.heading,
        text,
        world,
        findings: marks
          .filter((mark) => !mark.gap)
          .map((mark) => ({
            rule: mark.rule,
            part: mark.part,
            from: index.offset({ line: mark.line + shift, column: mark.from }),
            to: index.offset({ line: mark.line + shift, column: mark.to }),
          })),
        gaps: marks
          .filter((mark) => mark.gap)
          .map((mark) => ({ rule: mark.rule, part: mark.part, line: mark.line + shift })),
      });
    }
  }
  return cases;
};
