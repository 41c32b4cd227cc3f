import { type InitializeParams, InsertTextMode } from 'vscode-languageserver';
import type { Grants } from './machine.ts';

/** What the client can do and what it grants, read once from its first message. */
export interface ClientTerms {
  readonly pulls: boolean;
  readonly refreshes: boolean;
  readonly watches: boolean;
  readonly showsMarkdown: boolean;
  /** Whether it shows pictures that an address in Markdown holds itself; elsewhere they would be pages of signs. */
  readonly showsPictures: boolean;
  readonly versionedEdits: boolean;
  /** Whether edits may have blanks to which the cursor goes. */
  readonly takesBlanks: boolean;
  readonly preparesRename: boolean;
  readonly refreshesHints: boolean;
  readonly refreshesLenses: boolean;
  /** Whether it can be asked for settings, and tells when they change. */
  readonly hasSettings: boolean;
  readonly tellsSettings: boolean;
  readonly showsProgress: boolean;
  /** Whether findings of documents that are not open are wanted. */
  readonly wantsAll: boolean;
  /** The folders of the workspace, as the client addresses them. */
  readonly folders: readonly string[];
  readonly changesFolders: boolean;
  /** Whether it shows how each plan stands: see `STATUS`. */
  readonly showsStatus: boolean;
  /** Whether it opens documents that the server writes, such as the pages of rules. */
  readonly opensPages: boolean;
  readonly completion: {
    readonly takesSnippets: boolean;
    /** Whether later lines of an inserted text can be left as they are. */
    readonly takesAsIs: boolean;
    /** Whether a suggestion may open the list again, by a command of the editor that ours knows. */
    readonly opensMore: boolean;
  };
  /** Whether it opens files for us: see `FILE_REQUESTS`. */
  readonly opensFiles: boolean;
  /** Documents at which an earlier server ended. */
  readonly suspects: readonly string[];
  readonly grants: Grants;
}

const fieldOf = (from: unknown, name: string): unknown =>
  typeof from === 'object' && from !== null ? Reflect.get(from, name) : undefined;

const textsOf = (value: unknown): readonly string[] =>
  Array.isArray(value) ? value.filter((each) => typeof each === 'string' && each !== '') : [];

/** Reads `{ dataFolders?: string[], restricted?: boolean }` of a client, beside what the environment grants. */
export const readGrants = (from: unknown, environment: readonly string[]): Grants => {
  const named = textsOf(fieldOf(from, 'dataFolders'));
  return { dataFolders: [...named, ...environment], restricted: fieldOf(from, 'restricted') === true };
};

const foldersOf = ({ workspaceFolders, rootUri }: InitializeParams): readonly string[] =>
  workspaceFolders?.map(({ uri }) => uri) ?? (typeof rootUri === 'string' ? [rootUri] : []);

export const readTerms = (params: InitializeParams, environment: readonly string[]): ClientTerms => {
  const { textDocument, workspace } = params.capabilities;
  const item = textDocument?.completion?.completionItem;
  const options: unknown = params.initializationOptions;
  return {
    pulls: textDocument?.diagnostic !== undefined,
    refreshes: workspace?.diagnostics?.refreshSupport === true,
    watches: workspace?.didChangeWatchedFiles?.dynamicRegistration === true,
    showsMarkdown: textDocument?.hover?.contentFormat?.includes('markdown') !== false,
    showsPictures: fieldOf(options, 'pictures') === true,
    versionedEdits: workspace?.workspaceEdit?.documentChanges === true,
    takesBlanks: workspace?.workspaceEdit?.snippetEditSupport === true,
    preparesRename: textDocument?.rename?.prepareSupport === true,
    refreshesHints: workspace?.inlayHint?.refreshSupport === true,
    refreshesLenses: workspace?.codeLens?.refreshSupport === true,
    hasSettings: workspace?.configuration === true,
    tellsSettings: workspace?.didChangeConfiguration?.dynamicRegistration === true,
    showsProgress: params.capabilities.window?.workDoneProgress === true,
    wantsAll: textDocument?.diagnostic !== undefined && fieldOf(options, 'allPlans') !== false,
    folders: foldersOf(params),
    changesFolders: workspace?.workspaceFolders === true,
    showsStatus: fieldOf(options, 'status') === true,
    opensPages: workspace?.textDocumentContent !== undefined,
    completion: {
      takesSnippets: item?.snippetSupport === true,
      takesAsIs: item?.insertTextModeSupport?.valueSet.includes(InsertTextMode.asIs) === true,
      opensMore: fieldOf(options, 'commands') === true,
    },
    opensFiles: fieldOf(options, 'files') === true,
    suspects: textsOf(fieldOf(options, 'suspects')),
    grants: readGrants(options, environment),
  };
};
