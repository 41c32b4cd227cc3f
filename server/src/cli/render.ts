import { dirname, resolve } from 'node:path';
import type { Output } from './arguments.ts';
import type { Run } from './checked.ts';
import { baselineText } from './formats/baseline.ts';
import { geojsonText } from './formats/geojson.ts';
import { githubReport } from './formats/github.ts';
import { gitlabReport } from './formats/gitlab.ts';
import { gnuReport } from './formats/gnu.ts';
import { jsonReport, jsonText } from './formats/json.ts';
import { junitReport } from './formats/junit.ts';
import { markdownComment, markdownSummary } from './formats/markdown.ts';
import { sarifPlatformReport, sarifReport } from './formats/sarif.ts';
import { textReport } from './formats/text.ts';
import type { Paint } from './terminal.ts';

/** A run as one of the formats. Text that is written to a file is never painted. */
export const render = (run: Run, { format, file }: Output, paint: Paint): string => {
  switch (format) {
    case 'text':
      return textReport(run, paint);
    case 'json':
      return jsonText(jsonReport(run));
    case 'sarif':
      return jsonText(sarifReport(run));
    case 'sarif-platform':
      return jsonText(sarifPlatformReport(run));
    case 'junit':
      return junitReport(run);
    case 'github':
      return githubReport(run);
    case 'gitlab':
      return jsonText(gitlabReport(run));
    case 'gnu':
      return gnuReport(run);
    case 'markdown':
      return markdownComment(run);
    case 'markdown-summary':
      return markdownSummary(run);
    case 'geojson':
      return geojsonText(run);
    case 'baseline':
      return baselineText(run, file === undefined ? resolve('.') : dirname(resolve(file)));
  }
};
