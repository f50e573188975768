/** `npm run -s token -- …` prints a bearer token of the local key. */
import { parseArgs } from 'node:util';
import { type Scope, scopes } from '../app/asker.ts';
import { issueToken, type TokenRequest } from '../app/issue-token.ts';
import { loadConfig } from '../config.ts';

const usage = `usage: npm run -s token -- (--distributor SLUG | --maker SLUG | both) --scope SCOPE [--scope SCOPE …]
         [--subject NAME] [--client NAME] [--minutes 1..1440]
scopes:  ${scopes.join(', ')}`;

class UsageError extends Error {}

try {
  const request = readRequest(process.argv.slice(2));
  const config = loadConfig();
  if (config.auth !== null) {
    throw new UsageError('AUTH_ISSUER is set: this service takes tokens of that issuer, not of the local key.');
  }
  console.log(await issueToken(config.dataDir, request, new Date()));
} catch (error) {
  console.error(
    error instanceof UsageError ? `${error.message}\n${usage}` : error instanceof Error ? error.message : error,
  );
  process.exitCode = error instanceof UsageError ? 2 : 1;
}

function readRequest(args: string[]): TokenRequest {
  const values = parse(args);
  const distributor = readSlug('distributor', values.distributor);
  const maker = readSlug('maker', values.maker);
  if (distributor === null && maker === null)
    throw new UsageError('Say who the token speaks for: --distributor or --maker.');
  const stated = (values.scope ?? []).flatMap((text) => text.split(/[ ,]+/)).filter((text) => text !== '');
  if (stated.length === 0) throw new UsageError('Give at least one --scope.');
  return {
    distributor,
    maker,
    scopes: stated.map(readScope),
    subject: readName('subject', values.subject),
    client: readName('client', values.client),
    minutes: readMinutes(values.minutes),
  };
}

function parse(args: string[]) {
  try {
    const options = {
      distributor: { type: 'string' },
      maker: { type: 'string' },
      scope: { type: 'string', multiple: true },
      subject: { type: 'string', default: 'local-user' },
      client: { type: 'string', default: 'local-client' },
      minutes: { type: 'string', default: '60' },
    } as const;
    return parseArgs({ args, options, strict: true }).values;
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : String(error));
  }
}

function readSlug(option: string, text: string | undefined): string | null {
  if (text === undefined) return null;
  if (/^[a-z0-9](?:[a-z0-9-]{0,48}[a-z0-9])?$/.test(text)) return text;
  throw new UsageError(`--${option} takes a slug such as brackwater: lower-case letters, digits and hyphens.`);
}

function readScope(text: string): Scope {
  const scope = scopes.find((each) => each === text);
  if (scope === undefined) throw new UsageError(`There is no scope ${text}.`);
  return scope;
}

function readName(option: string, text: string): string {
  if (text.length >= 1 && text.length <= 255) return text;
  throw new UsageError(`--${option} takes 1 to 255 characters.`);
}

function readMinutes(text: string): number {
  const minutes = /^\d{1,4}$/.test(text) ? Number(text) : 0;
  if (minutes >= 1 && minutes <= 1440) return minutes;
  throw new UsageError('--minutes takes a whole number from 1 to 1440.');
}
