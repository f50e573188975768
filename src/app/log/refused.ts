/** The log is not signed, and why: what an operator has to see to. Recording goes on, and its leaves wait. */
export class LogRefused extends Error {
  constructor(why: string) {
    super(why);
    this.name = 'LogRefused';
  }
}
