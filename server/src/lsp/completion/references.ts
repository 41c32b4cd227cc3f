import { CompletionItemKind } from 'vscode-languageserver';
import type { Files } from '../../world/files.ts';
import { isAddress } from '../address.ts';
import { filesBelow, referenceTo } from './files-below.ts';
import type { Suggestion } from './suggestion.ts';

/** The files that each key refers to, by the end of their names. */
const WANTED: Readonly<Record<string, RegExp>> = {
  aircraft: /\.aircraft\.ya?ml$/i,
  terrain: /\.(?:tiff?|hgt)$/i,
  geoid: /\.gtx$/i,
  airspace: /\.(?:geojson|json)$/i,
  mapping: /\.mapping\.ya?ml$/i,
  obstacles: /\.(?:geojson|json)$/i,
  runways: /\.(?:geojson|json)$/i,
  people: /\.(?:geojson|json)$/i,
  reports: /\.(?:txt|metar|taf)$/i,
};

/** A file can stand under several keys: the last that is known tells what is wanted. */
const wantedBy = (keys: readonly string[]): RegExp | undefined => {
  const key = keys.findLast((each) => Object.hasOwn(WANTED, each));
  return key === undefined ? undefined : WANTED[key];
};

/** The files of the workspace that a reference can name, relative to the document, nearest first. */
export const suggestFiles = async (
  keys: readonly string[],
  document: string,
  root: string,
  files: Files,
  isGivenUp: () => boolean,
): Promise<readonly Suggestion[]> => {
  const wanted = wantedBy(keys);
  if (wanted === undefined) return [];
  const { locations } = await filesBelow(files, root, (name) => wanted.test(name), isGivenUp);
  return (
    locations
      .map((location) => referenceTo(location, document, isAddress(document)))
      // Such a name could not be followed as a reference.
      .filter((reference) => !/[\\:%]/.test(reference))
      .sort((one, other) => one.split('/').length - other.split('/').length)
      .map((reference) => ({
        label: reference,
        kind: CompletionItemKind.File,
        text: /^[A-Za-z0-9._/ -]+$/.test(reference) ? reference : JSON.stringify(reference),
        // Typed from anywhere: "dipper" finds "../fleet/dipper-1.aircraft.yaml".
        matched: `${reference} ${reference.split('/').pop() ?? ''}`,
      }))
  );
};
