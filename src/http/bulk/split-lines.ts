/** The lines of a body as it comes in, without ever holding more than one of them and what has just arrived. */

export type Line = {
  /** Counted from 1, empty lines too. */
  readonly number: number;
  /** Without its line feed; null: longer than allowed, and not kept. */
  readonly bytes: Buffer | null;
};

/** What lies between line feeds; the last line needs none. Lines of white space alone are counted and left out. */
export async function* splitLines(
  chunks: AsyncIterable<Uint8Array>,
  mostBytes: number,
): AsyncGenerator<Line, void, undefined> {
  let number = 1;
  let parts: Uint8Array[] = [];
  let length = 0;
  const keep = (part: Uint8Array) => {
    length += part.length;
    if (length > mostBytes) parts = [];
    else parts.push(part);
  };
  const taken = (): Line => {
    const line = { number, bytes: length > mostBytes ? null : Buffer.concat(parts) };
    number += 1;
    parts = [];
    length = 0;
    return line;
  };
  for await (const chunk of chunks) {
    let from = 0;
    for (let at = chunk.indexOf(lineFeed); at >= 0; at = chunk.indexOf(lineFeed, from)) {
      keep(chunk.subarray(from, at));
      from = at + 1;
      const line = taken();
      if (!isBlank(line)) yield line;
    }
    if (from < chunk.length) keep(chunk.subarray(from));
  }
  const last = taken();
  if (!isBlank(last)) yield last;
}

const lineFeed = 0x0a;
/** Space, tab and carriage return: what JSON takes for white space beside the line feed. */
const blank = new Set([0x20, 0x09, 0x0d]);

function isBlank({ bytes }: Line): boolean {
  return bytes?.every((byte) => blank.has(byte)) ?? false;
}
