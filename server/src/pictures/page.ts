import { type Markup, markup, type Part } from './markup.ts';

/** Text of a style or of our own making that stands in a page as it is. Never a text of a plan. */
const asIs = (text: string): Markup => ({ markup: text });

/** Shared by all pages. Colours come from four names, so that a theme can set them. */
const BASE = `
*{box-sizing:border-box}
body{margin:0 auto;padding:1rem;max-width:62rem;background:var(--paper);color:var(--ink);font:0.95rem/1.4 var(--face,system-ui,sans-serif);overflow-wrap:break-word}
h1{font-size:1.5rem;margin:0 0 .3rem}h2{font-size:1.15rem;margin:1.6rem 0 .5rem;border-bottom:2px solid}h3{font-size:1rem;margin:1rem 0 .3rem}
p{margin:.4rem 0}ul,ol{margin:.4rem 0;padding-left:1.4rem}
dl{display:grid;grid-template-columns:repeat(auto-fit,minmax(17rem,1fr));gap:.4rem 1.2rem;margin:.5rem 0}
dt{font-weight:600}dd{margin:0}
table{border-collapse:collapse;width:100%;font-size:.85rem}
caption{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
th,td{border:1px solid var(--line);padding:.25rem .4rem;text-align:left;vertical-align:top;font-weight:normal;overflow-wrap:anywhere}
thead th{font-weight:600;overflow-wrap:normal;border-bottom:2px solid var(--ink)}
th,td{min-width:5.4em}
.wide{overflow-x:auto;margin:.5rem 0}.wide:focus-visible{outline:2px solid var(--ink)}
figure{margin:.8rem 0}figure svg{display:block;width:100%;height:auto}@media screen{figure svg{min-width:34rem}}
figcaption{font-size:.8rem}figcaption ul{columns:2 18rem;column-gap:2rem;margin:.2rem 0}figcaption li{break-inside:avoid}
code{font-family:ui-monospace,monospace;font-size:.92em}
.fine{font-size:.8rem}.standing{font-weight:600;border:2px solid;padding:.4rem .6rem;margin:.6rem 0}
svg .halo{stroke:var(--paper)}svg .paper{fill:var(--paper)}svg .breach-line{stroke:var(--breach)}
svg .breach{fill:var(--breach);stroke:var(--paper)}svg .settled{fill:var(--line)}svg .breach [stroke]{stroke:var(--paper)}svg .breach [fill]{fill:var(--paper)}
nav a{color:inherit;margin-right:.8rem}
`;

const PRINT = `
@page{margin:13mm}
@media print{body{padding:0;max-width:none;font-size:9.5pt}nav{display:none}h2{break-after:avoid}tr,figure,dl>div{break-inside:avoid}thead{display:table-header-group}.wide{overflow:visible}table{font-size:8pt}section:has(#matrix){break-before:page}section:has(#matrix) table{font-size:7pt}th,td{min-width:4.6em}figure svg{max-width:100%;max-height:120mm}}
`;

export interface PageTerms {
  readonly title: string;
  /** The four colours, and what else is special. */
  readonly style: string;
  /** A policy for what the page may load, and the number by which it knows its own style. */
  readonly policy?: { readonly content: string; readonly nonce: string; readonly script: string };
}

/** A whole page. It runs no script but the one of its policy. */
export const page = ({ title, style, policy }: PageTerms, ...content: readonly Part[]): Markup =>
  markup`<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"/>${
    policy && markup`<meta http-equiv="Content-Security-Policy" content="${policy.content}"/>`
  }<meta name="viewport" content="width=device-width, initial-scale=1"/><title>${title}</title><style${
    policy && markup` nonce="${policy.nonce}"`
  }>${asIs(`${style}${BASE}${PRINT}`)}</style></head>
<body>
${content}${policy && markup`<script nonce="${policy.nonce}">${asIs(policy.script)}</script>\n`}</body></html>
`;
