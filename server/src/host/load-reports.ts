import type { Plan } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import type { LoadedReport } from '../world/weather-report.ts';
import { follow, type Loading, provenanceOf, readWhole, reasonOf } from './sources.ts';
import { decodeText } from './text-file.ts';

const LARGEST = 1024 * 1024;
/** A file of more reports than this is an archive. */
const MOST_REPORTS = 100;

interface ReportText {
  readonly at: Span;
  readonly text: string;
}

/**
 * Decodes the weather reports of a plan, in the order of its keys. The decoder loads on first use. What is wrong with a
 * file is told of its reference; what is wrong with a report stands in the report.
 */
export const loadReports = async (plan: Plan, loading: Loading): Promise<readonly LoadedReport[]> => {
  const { metar, taf, reports } = plan.weather;
  if (metar === undefined && taf === undefined && (reports ?? []).length === 0) return [];
  const { decodeReport, reportsOf } = await import('./weather/decode-report.ts');
  const texts: ReportText[] = [metar, taf].flatMap((each) =>
    each === undefined ? [] : [{ at: each.span, text: each.value }],
  );
  for (const { value: reference, span } of reports ?? []) {
    try {
      const source = await follow(reference, loading);
      const found = reportsOf(decodeText(await readWhole(loading.files, source, LARGEST)));
      if (found.length === 0) loading.report(reference, 'holds no weather report');
      if (found.length > MOST_REPORTS) {
        loading.report(reference, `holds ${found.length} reports; the first ${MOST_REPORTS} were read`);
      }
      texts.push(...found.slice(0, MOST_REPORTS).map((text) => ({ at: span, text })));
      loading.used({ ...provenanceOf(reference, {}), passing: true });
    } catch (error) {
      loading.report(reference, reasonOf(error));
    }
  }
  const decoded = await Promise.all(
    texts.map(({ text }) =>
      loading.cache.get(`report ${text}`, async () => ({ value: decodeReport(text), bytes: 10 * text.length + 2000 })),
    ),
  );
  return decoded.flatMap((report, i): readonly LoadedReport[] => {
    const at = texts[i]?.at;
    if (at === undefined) return [];
    if ('report' in report) loading.used({ name: report.name, edition: 'as received', passing: true });
    return [{ at, ...report }];
  });
};
