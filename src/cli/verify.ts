/**
 * `npm run -s verify -- certificate|receipt|chain|log …` checks what the service gave out without trusting it: with public
 * keys alone, and for files without a network. Exits 0 where it is proven, 1 where it isn't, 2 where it can't be told.
 */
import { verify } from './verify/verify.ts';

process.exitCode = await verify(process.argv.slice(2), {
  out: console.log,
  err: (text) => process.stderr.write(text),
});
