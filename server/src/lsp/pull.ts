import {
  type CancellationToken,
  type Diagnostic,
  DiagnosticSeverity,
  type DocumentDiagnosticReport,
  LSPErrorCodes,
  ResponseError,
} from 'vscode-languageserver';
import { digestOf } from '../text/digest.ts';
import { diagnosticsOf, remarkAtTop } from './diagnostics.ts';
import type { Judgement } from './judgement.ts';
import type { Session } from './session.ts';

/** How long a pull waits for the world; then it answers with what is known, and a refresh follows. */
const WAIT_MS = 2000;

/** Keys the diagnostics by what they show: equal ones need not be sent again. */
const resultId = (items: readonly Diagnostic[]): string => digestOf([JSON.stringify(items)]);

const reportOf = (items: readonly Diagnostic[], previous: string | undefined): DocumentDiagnosticReport => {
  const id = resultId(items);
  if (id === previous) return { kind: 'unchanged', resultId: id };
  return { kind: 'full', resultId: id, items: [...items] };
};

const STILL_LOADING = remarkAtTop(
  'not assessed yet: the review of this text is still under way',
  DiagnosticSeverity.Information,
);

const inTime = async <T>(work: Promise<T>, ms: number): Promise<T | 'too late'> => {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<'too late'>((resolve) => {
    timer = setTimeout(() => resolve('too late'), ms);
  });
  try {
    return await Promise.race([work, late]);
  } finally {
    clearTimeout(timer);
  }
};

/**
 * Answers a pull. One that is cancelled with little left is answered all the same, since clients show late answers and
 * throw errors away; one that is cancelled early fails as the protocol has it, so that the client may ask again.
 */
export const answerPull = async (
  session: Session,
  uri: string,
  previous: string | undefined,
  token: CancellationToken,
  refresh: () => void,
  pageOf?: (rule: string) => string,
): Promise<DocumentDiagnosticReport> => {
  if (session.document(uri) === undefined) return { kind: 'full', items: [] };
  const work = session.judged(uri, token);
  const judgement = await inTime(work, WAIT_MS);
  const show = (judged: Judgement): readonly Diagnostic[] => diagnosticsOf(judged, (at) => session.uriOf(at), pageOf);
  if (judgement === 'too late') {
    void work.then((late) => {
      if (late !== undefined) refresh();
    });
    const last = session.last(uri);
    return reportOf([...(last === undefined ? [] : show(last)), STILL_LOADING], previous);
  }
  if (judgement !== undefined) return reportOf(show(judgement), previous);
  if (token.isCancellationRequested)
    throw new ResponseError(LSPErrorCodes.RequestCancelled, 'the client asked for this no longer');
  // Closed while it was being judged: nothing of it is shown any more.
  return { kind: 'full', items: [] };
};
