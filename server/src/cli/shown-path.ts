import { relative } from 'node:path';

/** A path as people know it: relative to the working folder where it lies below it, with "/" on every system. */
export const shownPath = (path: string): string => {
  const near = relative('.', path);
  return (near === '' || near.startsWith('..') ? path : near).replaceAll('\\', '/');
};
