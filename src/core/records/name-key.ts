/** Serials and tags are kept as written and compared as NFKC, trimmed and in upper case. */
export function nameKey(written: string): string {
  return written.normalize('NFKC').trim().toUpperCase().normalize('NFKC');
}
