import { availableParallelism } from 'node:os';
import { parentPort, Worker, workerData } from 'node:worker_threads';
import { faultOf, type JudgeOutcome, type JudgeTerms, judgeFile } from './judge-plan.ts';
import type { Machine } from './machine.ts';

/** Threads that judge plans beside each other. */
export interface Crew {
  readonly size: number;
  /** Judges the plan in a file. Never rejects: a thread that dies is a fault with the plan it had. */
  readonly judge: (path: string) => Promise<JudgeOutcome>;
  readonly close: () => Promise<void>;
}

/** A thread takes as long to start as some plans to judge, and loads its own terrain. */
const PLANS_FOR_A_THREAD = 8;
/** Each holds up to 256 MB of terrain. */
const MOST_THREADS = 4;

/** How many threads the environment allows (`WAYWARDEN_THREADS`), where memory is scarce or a run shares its machine. */
export const threadsAllowed = (told: string | undefined): number =>
  told !== undefined && /^[1-9]\d?$/.test(told) ? Number(told) : MOST_THREADS;

interface Member {
  readonly worker: Worker;
  answer: ((outcome: JudgeOutcome) => void) | undefined;
}

/** Threads that run the program again; undefined where they would not pay. */
export const crewOf = (program: URL, terms: JudgeTerms, plans: number, most = MOST_THREADS): Crew | undefined => {
  const size = Math.min(availableParallelism(), most, Math.floor(plans / PLANS_FOR_A_THREAD));
  if (size < 2) return undefined;
  const idle: Member[] = [];
  const all = new Set<Member>();
  const waiting: ((member: Member | undefined) => void)[] = [];

  const free = (member: Member): void => {
    const next = waiting.shift();
    if (next === undefined) idle.push(member);
    else next(member);
  };
  const start = (): void => {
    const member: Member = { worker: new Worker(program, { workerData: terms }), answer: undefined };
    all.add(member);
    member.worker.on('message', (outcome: JudgeOutcome) => {
      const { answer } = member;
      member.answer = undefined;
      answer?.(outcome);
      free(member);
    });
    const lost = (error: unknown): void => {
      if (!all.delete(member)) return;
      const at = idle.indexOf(member);
      if (at >= 0) idle.splice(at, 1);
      member.answer?.(faultOf(error));
      if (all.size === 0) for (const next of waiting.splice(0)) next(undefined);
    };
    member.worker.on('error', lost);
    member.worker.on('exit', () => lost('a thread ended early'));
    idle.push(member);
  };
  for (let i = 0; i < size; i++) start();

  return {
    size,
    judge: async (path) => {
      const member =
        idle.pop() ??
        (all.size === 0 ? undefined : await new Promise<Member | undefined>((done) => waiting.push(done)));
      if (member === undefined) return faultOf('no thread is left to judge it');
      return new Promise((done) => {
        member.answer = done;
        member.worker.postMessage(path);
      });
    },
    close: async () => {
      const members = [...all];
      all.clear();
      await Promise.all(members.map(({ worker }) => worker.terminate()));
    },
  };
};

/** The other end: judges one plan after the other, as it is told, until the thread is ended. */
export const judgeInThread = (machine: Machine): void => {
  const terms = workerData as JudgeTerms;
  const host = machine.host(terms.dataFolders);
  parentPort?.on('message', (path: string) => {
    void judgeFile(path, terms, machine, host).then((outcome) => parentPort?.postMessage(outcome));
  });
};
