/** Tokens that were verified, so that the next request of a caller costs no signature check. */
import { createHash } from 'node:crypto';
import type { CryptoKey, JWSHeaderParameters } from 'jose';

/** The key that a token's header names, as it is now. @throws where it names none, or the keys can't be had. */
export type Keys = (header?: JWSHeaderParameters) => Promise<CryptoKey>;

/** What was found of a token whose signature is good. Times are in seconds since 1970, as claims have them. */
export type Verified<Claims> = {
  readonly header: JWSHeaderParameters;
  readonly key: CryptoKey;
  readonly claims: Claims;
  readonly notBefore: number;
  /** From then on it is no good. */
  readonly expires: number;
};

/** About a kilobyte each. */
const mostKept = 5_000;

/**
 * Keeps the tokens used last, by their SHA-256: whoever reads this memory finds no token in it, and the signature is
 * part of what is hashed, so a token that differs anywhere is another. What was refused is not kept.
 *
 * The issuer's keys are asked for the token's key each time, as if nothing were kept, and what was verified counts only
 * while the answer is the very object that it was verified by. A key set that is fetched anew (after ten minutes, or for
 * an unknown key id) hands out new objects, also for keys that stayed: so everything is checked once again, a key that
 * was taken out is missed as soon as it would be without this, and keys that can't be had are unavailable to all.
 */
export class VerifiedTokens<Claims> {
  readonly #kept = new Map<string, Verified<Claims>>();
  readonly #keys: Keys;
  readonly #toleratedSeconds: number;
  readonly #most: number;

  constructor(options: { keys: Keys; toleratedSeconds: number; most?: number }) {
    this.#keys = options.keys;
    this.#toleratedSeconds = options.toleratedSeconds;
    this.#most = options.most ?? mostKept;
  }

  /** The claims of the token. @throws what `verify` throws, and what the keys throw. */
  async claimsOf(token: string, verify: (token: string) => Promise<Verified<Claims>>): Promise<Claims> {
    const name = createHash('sha256').update(token).digest('base64');
    const kept = this.#kept.get(name);
    const good = kept !== undefined && (await this.#isStillGood(kept)) ? kept : await verify(token);
    this.#keep(name, good);
    return good.claims;
  }

  /** At the end, so that the first is the one that wasn't used for longest. */
  #keep(name: string, good: Verified<Claims>): void {
    this.#kept.delete(name);
    this.#kept.set(name, good);
    if (this.#kept.size > this.#most) this.#kept.delete(this.#kept.keys().next().value ?? name);
  }

  async #isStillGood({ header, key, notBefore, expires }: Verified<Claims>): Promise<boolean> {
    const now = Math.floor(Date.now() / 1_000);
    if (now + this.#toleratedSeconds < notBefore || now - this.#toleratedSeconds >= expires) return false;
    return (await this.#keys(header)) === key;
  }
}
