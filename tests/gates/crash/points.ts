/** Where a recording can be stopped, who is killed there, and the promises that a control breaks; messages between processes. */
export const points = ['before BEGIN', 'after the insert', 'after COMMIT before the reply'] as const;
export type Point = (typeof points)[number];

export const targets = ['the service', 'Postgres', 'both'] as const;
export type Target = (typeof targets)[number];

export const brokenPromises = ['the reply before COMMIT', 'the log entry in a second transaction'] as const;
export type BrokenPromise = (typeof brokenPromises)[number];

/** To the service: the next recording that comes to this point waits there, or the one that waits goes on. */
export type Order = { readonly stopAt: Point } | { readonly goOn: true };
/** From it. */
export type Report = { readonly waitsAt: Point };
