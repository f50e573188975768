/** Bulk uploads as a shop system sends them: lines out, lines back. */
import type { TestService, Who } from './service.ts';

// biome-ignore lint/suspicious/noExplicitAny: an outcome is read as JSON, field by field
export type LineOutcome = any;
export type Uploaded = { readonly status: number; readonly outcomes: LineOutcome[]; readonly text: string };
/** A line that is a text is sent as it is, anything else as JSON. */
export type Uploader = (lines: readonly unknown[], query?: string) => Promise<Uploaded>;

export async function uploader({ server, tokenOf }: TestService, who: Who): Promise<Uploader> {
  const token = await tokenOf(who);
  return async (lines, query = '') => {
    const answer = await server.inject({
      method: 'POST',
      url: `/v1/bulk${query}`,
      headers: { authorization: `Bearer ${token}`, 'content-type': 'application/x-ndjson' },
      payload: bodyOf(lines),
    });
    return { status: answer.statusCode, outcomes: outcomesIn(answer.payload), text: answer.payload };
  };
}

export function bodyOf(lines: readonly unknown[]): string {
  return lines.map((line) => `${typeof line === 'string' ? line : JSON.stringify(line)}\n`).join('');
}

export function outcomesIn(text: string): LineOutcome[] {
  return text
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line) as LineOutcome);
}
