import { plain } from './terminal.ts';

/** So few plans are done before anybody wonders. */
const FEW = 3;
const LONGEST_PATH = 60;
const CLEAR = '\r\u001b[K';

export interface Progress {
  readonly next: (path: string) => void;
  readonly end: () => void;
}

/**
 * A line that tells how far a long run is, for whoever watches standard error. It is taken away at the end, so that
 * nothing of it stays among the results.
 */
export const progressOf = (plans: number, write: ((text: string) => void) | undefined): Progress => {
  if (write === undefined || plans <= FEW) return { next: () => {}, end: () => {} };
  let done = 0;
  return {
    next: (path) => {
      done++;
      write(`${CLEAR}${done} of ${plans}  ${plain(path.slice(-LONGEST_PATH))}`);
    },
    end: () => write(CLEAR),
  };
};
