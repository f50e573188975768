/** The schema and the named reports, as they lie in `schema/`. Read once, when the service starts. */
import { readdirSync, readFileSync } from 'node:fs';

const folder = new URL('../../schema/', import.meta.url);

export function readSchema(): string {
  return texts(folder)
    .map(({ text }) => text)
    .join('\n');
}

/** By name: the file's, without its ending. */
export function readReports(): ReadonlyMap<string, string> {
  return new Map(texts(new URL('reports/', folder)).map(({ name, text }) => [name, text]));
}

function texts(from: URL): { readonly name: string; readonly text: string }[] {
  const files = readdirSync(from).filter((file) => file.endsWith('.graphql'));
  return files.sort().map((file) => ({
    name: file.slice(0, -'.graphql'.length),
    text: readFileSync(new URL(file, from), 'utf8'),
  }));
}
