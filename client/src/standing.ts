import { type Disposable, type DocumentSelector, LanguageStatusSeverity, languages, window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';

interface Standing {
  readonly uri: string;
  readonly worst: 'stop' | 'caution' | 'note' | null;
  readonly text: string;
  readonly complete: boolean;
}

const severityOf = ({ worst, complete }: Standing): LanguageStatusSeverity => {
  if (worst === 'stop') return LanguageStatusSeverity.Error;
  return worst === 'caution' || !complete ? LanguageStatusSeverity.Warning : LanguageStatusSeverity.Information;
};

/** The status item of the plan that is being written: what the server last told of it. */
export const showStanding = (client: BaseLanguageClient, selector: DocumentSelector): readonly Disposable[] => {
  const item = languages.createLanguageStatusItem('waywarden.standing', selector);
  const known = new Map<string, Standing>();
  item.name = 'Waywarden';
  item.command = { title: 'Show problems', command: 'workbench.actions.view.problems' };
  const show = (): void => {
    const uri = window.activeTextEditor?.document.uri;
    const standing = uri === undefined ? undefined : known.get(client.code2ProtocolConverter.asUri(uri));
    item.busy = standing === undefined;
    item.text = standing?.text ?? 'not assessed yet';
    item.detail = 'Waywarden';
    item.severity = standing === undefined ? LanguageStatusSeverity.Information : severityOf(standing);
  };
  show();
  return [
    item,
    client.onNotification('waywarden/status', (standing: Standing) => {
      known.set(standing.uri, standing);
      show();
    }),
    window.onDidChangeActiveTextEditor(show),
  ];
};
