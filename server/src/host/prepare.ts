import type { Aircraft } from '../plan/aircraft.ts';
import { type PlanDocument, readPlanDocument } from '../plan/read.ts';
import { readSettings } from '../plan/read-settings.ts';
import { NO_SETTINGS, type Settings } from '../plan/settings.ts';
import type { ReviewInput } from '../review/review.ts';
import type { Instant } from '../units/frames.ts';
import type { Files } from '../world/files.ts';
import { isMissing } from '../world/world.ts';
import { findRoot, findSettings } from './find-root.ts';
import { loadWorld, type WorldCache } from './load-world.ts';
import { decodeText } from './text-file.ts';

/** What the machine grants and knows, the same for every plan of a run. */
export interface Host {
  readonly files: Files;
  readonly dataFolders: readonly string[];
  readonly restricted: boolean;
  readonly cache: WorldCache;
}

/** All that a review needs, and the texts behind its places, by document. */
export interface Prepared {
  readonly input: ReviewInput;
  readonly texts: ReadonlyMap<string, string>;
  /** The plan with the parts of its text, for the next reading. */
  readonly reading: PlanDocument;
}

interface FoundSettings {
  readonly settings: Settings;
  readonly text?: string;
}

const settingsFor = async (
  files: Files,
  document: string,
  root: string,
  earlier?: Prepared,
): Promise<FoundSettings> => {
  const found = await findSettings(files, document, root);
  if (found.kind === 'none') return { settings: NO_SETTINGS };
  if (found.kind === 'refused')
    return { settings: { ...NO_SETTINGS, document: found.location, unreadable: found.reason } };
  try {
    const text = decodeText(await files.read(found.location));
    const before = earlier?.input.settings;
    if (before?.document === found.location && earlier?.texts.get(found.location) === text)
      return { settings: before, text };
    return { settings: readSettings(text, found.location), text };
  } catch (error) {
    const reason = error instanceof Error ? error.message : 'could not be read';
    return { settings: { ...NO_SETTINGS, document: found.location, unreadable: reason } };
  }
};

const aircraftText = async (files: Files, aircraft: Aircraft): Promise<string | undefined> => {
  try {
    return decodeText(await files.read(aircraft.document));
  } catch {
    // Read a moment ago and gone now: places in it cannot be told, the findings stay.
    return undefined;
  }
};

/**
 * Reads a plan and loads what it needs: the one way from text to review, for the editor and the command line alike. With
 * what was prepared for an earlier text of the same document, the parts that did not change are the same objects; the
 * earlier plan must not be used any more.
 */
export const prepare = async (
  text: string,
  document: string,
  host: Host,
  now: Instant,
  earlier?: Prepared,
): Promise<Prepared> => {
  const { files } = host;
  const reading = readPlanDocument(text, document, earlier?.reading);
  const { plan } = reading;
  const root = await findRoot(files, document);
  const found = await settingsFor(files, document, root, earlier);
  const world = await loadWorld(plan, {
    files,
    root,
    dataFolders: host.dataFolders,
    restricted: host.restricted,
    cache: host.cache,
  });
  const texts = new Map([[document, text]]);
  if (found.text !== undefined && found.settings.document !== undefined) texts.set(found.settings.document, found.text);
  if (!isMissing(world.aircraft)) {
    const own = await aircraftText(files, world.aircraft);
    if (own !== undefined) texts.set(world.aircraft.document, own);
  }
  return { input: { plan, world, settings: found.settings, now }, texts, reading };
};
