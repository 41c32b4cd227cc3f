import type { CancellationToken } from 'vscode-languageserver';
import { emptyView, flightView } from '../pictures/view-page.ts';
import type { Desk } from './desk.ts';

/**
 * A request of ours, `{ uri, nonce }`: the flight of an open plan as a page, `{ html, edition }`. `edition` grows with each
 * text, so that a late answer does not take the place of a newer one. `nonce` names the page's own style and script in its
 * policy, which lets in nothing else. Null where the document is not open, or where the request was cancelled.
 */
export const VIEW = 'waywarden/view';

interface ViewRequest {
  readonly uri: string;
  readonly nonce: string;
}

interface View {
  readonly html: string;
  readonly edition: number;
}

/** Anything else could end the policy it is put into. */
const NONCE = /^[A-Za-z0-9]{8,64}$/;

const viewOf = async (desk: Desk, { uri, nonce }: ViewRequest, token: CancellationToken): Promise<View | null> => {
  if (!NONCE.test(nonce)) return null;
  const judgement = await desk.current(uri, token);
  if (judgement === undefined) return null;
  const { review, tools, document, fault } = judgement;
  const edition = document.serial;
  if (fault !== undefined) return { html: emptyView('Nothing was assessed: this program failed.', nonce), edition };
  if (review === undefined || tools === undefined)
    return { html: emptyView('This document is no plan, so it has no flight to show.', nonce), edition };
  return { html: flightView(review, tools, nonce), edition };
};

export const serveView = (desk: Desk): void => {
  desk.connection.onRequest(VIEW, (params: ViewRequest, token: CancellationToken) =>
    desk.guarded('view', null, () => viewOf(desk, params, token)),
  );
};
