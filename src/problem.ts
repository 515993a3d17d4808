/**
 * Everything that can go wrong, in one closed table: a code, the HTTP status a door answers with, a plain
 * sentence for a person, and what to do next. An expected "no" (nothing found, does not fit) is a value, not a problem.
 */
export const problems = {
  'bad-input': {
    status: 400,
    sentence: 'The request does not fit what this step needs.',
    next: 'Correct the field that is named and try again. Nothing was changed.',
  },
  'unknown-procedure': {
    status: 404,
    sentence: 'There is no such procedure.',
    next: 'Check the name; it is written place.verb.',
  },
  'not-found': {
    status: 404,
    sentence: 'There is nothing with that id.',
    next: 'Check the id, or search for it. Nothing was changed.',
  },
  conflict: {
    status: 409,
    sentence: 'Somebody else changed this meanwhile, or the id is taken by something different.',
    next: 'Load it again, look at the difference, and repeat your change.',
  },
  'not-allowed-now': {
    status: 409,
    sentence: 'This step does not fit the state the job is in.',
    next: 'Look at the status of the job and take the step that is due. Nothing was changed.',
  },
  'bad-handbook': {
    status: 422,
    sentence: 'The handbook has an error.',
    next: 'Correct the file, line and field that are named. The handbook in use was not changed.',
  },
  'bad-circuit': {
    status: 422,
    sentence: 'The circuit cannot be solved as it is written.',
    next: 'Correct the component, node, plug or control that is named.',
  },
  'bad-probe': {
    status: 422,
    sentence: 'The instrument cannot be used like that here.',
    next: 'Read the reason and choose another point or another instrument.',
  },
  'too-large': {
    status: 413,
    sentence: 'That is more than this step takes.',
    next: 'Shorten it to the limit that is named.',
  },
  'bad-file': {
    status: 422,
    sentence: 'The file cannot be read.',
    next: 'Check that it is the right file and that it is whole. Nothing was changed.',
  },
  'newer-database': {
    status: 503,
    sentence: 'The shop data was written by a newer version of Bench Tally and was left alone.',
    next: 'Update Bench Tally on this computer, or restore an older backup.',
  },
  'damaged-database': {
    status: 503,
    sentence: 'The shop data file is damaged or is not a shop data file. It was left alone.',
    next: 'Put the last backup in place; the damaged file is kept aside. Nothing in it was changed.',
  },
  'database-busy': {
    status: 503,
    sentence: 'The shop data is held by another program.',
    next: 'Close the other window or wait until it is done, then try again. Nothing was changed.',
  },
  'cannot-write': {
    status: 507,
    sentence: 'The shop data cannot be written: the disk is full or the folder is read-only.',
    next: 'Free some space or choose a folder that can be written. What was saved before is safe.',
  },
  'not-signed-in': {
    status: 401,
    sentence: 'This window was not opened by Bench Tally on this computer.',
    next: 'Open the address that Bench Tally printed when it started, or start it again.',
  },
  'wrong-origin': {
    status: 403,
    sentence: 'The request came from somewhere else than Bench Tally.',
    next: 'Use the window that Bench Tally opened.',
  },
  cancelled: { status: 409, sentence: 'The work was cancelled.', next: 'Start it again when you want it.' },
  unexpected: {
    status: 500,
    sentence: 'Something went wrong inside Bench Tally.',
    next: 'Try again; if it happens again, keep the log file and tell who looks after the program.',
  },
} as const;

export type ProblemCode = keyof typeof problems;

/** Where the trouble is: a field path, a file with its line, a row, or an id. */
export interface ProblemPlace {
  readonly field?: string;
  readonly file?: string;
  readonly line?: number;
  readonly row?: number;
  readonly id?: string;
}

/** What a door sends to the caller. */
export interface ProblemReport {
  readonly code: ProblemCode;
  readonly message: string;
  readonly next: string;
  readonly where?: ProblemPlace;
}

/**
 * The one error class. `message` says what was expected, what came (quoting the value) and where;
 * the table above supplies what to do next.
 */
export class Problem extends Error {
  readonly code: ProblemCode;
  readonly where: ProblemPlace | undefined;

  constructor(code: ProblemCode, message?: string, where?: ProblemPlace, options?: ErrorOptions) {
    super(message ?? problems[code].sentence, options);
    this.name = 'Problem';
    this.code = code;
    this.where = where;
  }

  get status(): number {
    return problems[this.code].status;
  }

  report(): ProblemReport {
    return {
      code: this.code,
      message: this.message,
      next: problems[this.code].next,
      ...(this.where ? { where: this.where } : {}),
    };
  }
}

/** Quotes a value of the user's for a message, cut to a readable length. */
export function quoted(value: unknown): string {
  const text = typeof value === 'string' ? value : (JSON.stringify(value) ?? String(value));
  return `“${text.length > 60 ? `${text.slice(0, 60)}…` : text}”`;
}
