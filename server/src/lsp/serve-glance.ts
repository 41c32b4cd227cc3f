import {
  type CodeLens,
  CodeLensRefreshRequest,
  DidChangeConfigurationNotification,
  type InitializeResult,
} from 'vscode-languageserver';
import type { ClientTerms } from './client-terms.ts';
import { rangeOf } from './convert.ts';
import type { Desk } from './desk.ts';
import { ALL_HINTS, hintsIn, type WantedHints } from './glance/hints.ts';
import { sayStanding, standingOf, totalsOf } from './glance/totals.ts';
import type { Judgement } from './judgement.ts';

/** Sent to a client that asks for it (`status: true`) after each judgement; see `statusOf`. */
export const STATUS = 'waywarden/status';

/** What shows how a plan stands, as it is told to the client. */
export const glanceCapabilities = (_terms: ClientTerms): InitializeResult['capabilities'] => ({
  inlayHintProvider: true,
  codeLensProvider: { resolveProvider: false },
});

/** What a status item shows of a document: `{ uri, worst, text }`, worst `null` where nothing was found. */
export const statusOf = (judgement: Judgement): object => {
  const standing = standingOf(judgement);
  const failed = judgement.fault !== undefined;
  return {
    uri: judgement.document.uri,
    worst: failed ? 'stop' : (standing.worst ?? null),
    text: failed ? 'nothing was assessed: this program failed' : sayStanding(standing),
    complete: !failed && standing.notAssessed + standing.inPart === 0,
  };
};

const SECTION = 'waywarden.hints';

const wantedIn = (settings: unknown): WantedHints => {
  const wants = (name: keyof WantedHints): boolean =>
    typeof settings !== 'object' || settings === null || Reflect.get(settings, name) !== false;
  return {
    heightAboveGround: wants('heightAboveGround'),
    legLength: wants('legLength'),
    arrival: wants('arrival'),
    energyLeft: wants('energyLeft'),
  };
};

const lensesOf = (judgement: Judgement): CodeLens[] => {
  const title = judgement.input?.plan.titleSpan;
  if (title === undefined) return [];
  const range = rangeOf(title, judgement.lines);
  // A command without a name is shown as text: there is nothing to run.
  return totalsOf(judgement).map((said) => ({ range, command: { title: said, command: '' } }));
};

export const serveGlance = (desk: Desk): void => {
  const { connection } = desk;
  let wanted: Promise<WantedHints> | undefined;

  /** Asked for once; a client that cannot be asked is shown all. */
  const wantedHints = (): Promise<WantedHints> => {
    if (desk.running()?.terms.hasSettings !== true) return Promise.resolve(ALL_HINTS);
    wanted ??= connection.workspace.getConfiguration(SECTION).then(wantedIn, () => ALL_HINTS);
    return wanted;
  };

  connection.onDidChangeConfiguration(() => {
    wanted = undefined;
    refreshGlance(desk);
  });

  connection.languages.inlayHint.on(({ textDocument: { uri }, range }, token) =>
    desk.guarded('hints', [], async () => {
      const [judgement, hints] = await Promise.all([desk.current(uri, token), wantedHints()]);
      return judgement === undefined ? [] : hintsIn(judgement, range, hints);
    }),
  );

  connection.onCodeLens(({ textDocument: { uri } }, token) =>
    desk.guarded('totals', [], async () => {
      const judgement = await desk.current(uri, token);
      return judgement === undefined ? [] : lensesOf(judgement);
    }),
  );
};

/** Asks a client that can tell to tell when a setting of hints changes. */
export const watchSettings = (desk: Desk): Promise<void> =>
  desk.guarded('settings', undefined, async () => {
    if (desk.running()?.terms.tellsSettings !== true) return;
    await desk.connection.client.register(DidChangeConfigurationNotification.type, { section: SECTION });
  });

/** Has the client ask again for what it shows in a text that did not change: the world behind it did. */
export const refreshGlance = ({ connection, running }: Desk): void => {
  const terms = running()?.terms;
  const ignore = (): void => {};
  if (terms?.refreshesHints === true) connection.languages.inlayHint.refresh().catch(ignore);
  if (terms?.refreshesLenses === true) connection.sendRequest(CodeLensRefreshRequest.type).catch(ignore);
};
