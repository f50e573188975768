/** What a camera would read off a page: its code drawn as pixels from the markup, decoded by a library that did not make it. */
import jsqr from 'jsqr';

const scale = 4;

/** Null: there is no code in it that can be read. */
export function codeIn(markup: string): string | null {
  const [, size = '', drawing = ''] =
    /<svg class="code" viewBox="0 0 (\d+) \1"[^>]*>[\s\S]*?<path d="([^"]*)"/.exec(markup) ?? [];
  const side = Number(size) * scale;
  if (side === 0) return null;
  const pixels = new Uint8ClampedArray(side * side * 4).fill(255);
  for (const [, x, y, run, back] of drawing.matchAll(/M(\d+) (\d+)h(\d+)v1h-(\d+)z/g)) {
    if (run !== back) throw new Error('a run that is no rectangle');
    blacken(pixels, side, { x: Number(x), y: Number(y), run: Number(run) });
  }
  return jsqr.default(pixels, side, side)?.data ?? null;
}

function blacken(pixels: Uint8ClampedArray, side: number, { x, y, run }: { x: number; y: number; run: number }): void {
  for (let row = y * scale; row < (y + 1) * scale; row++) {
    for (let column = x * scale; column < (x + run) * scale; column++) {
      pixels.set([0, 0, 0, 255], (row * side + column) * 4);
    }
  }
}
