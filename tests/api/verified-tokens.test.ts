/** A token is verified once, and honoured no longer than if it were verified each time. */
import { webcrypto } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import {
  issuerVerification,
  localVerification,
  makeAuthenticate,
  type Verification,
} from '../../src/http/authenticate.ts';
import { type Verified, VerifiedTokens } from '../../src/http/verified-tokens.ts';
import { audience, directory, ed25519, issuer, type Key, now, signed, toJwk } from './shell.ts';

const signatureChecks = vi.spyOn(webcrypto.subtle, 'verify');
beforeEach(() => void signatureChecks.mockClear());
afterEach(() => void vi.useRealTimers());

/** Stops the clock, at the beginning of a second. */
function stopClock(): (seconds: number) => void {
  const from = now() * 1_000;
  vi.useFakeTimers({ toFake: ['Date'], now: from });
  return (seconds) => void vi.setSystemTime(from + seconds * 1_000);
}

type Ask = (token: string) => Promise<string>;

/** Says how a token fares: ok, or the code of the problem. */
function asking(verification: Verification, resolve = directory): Ask {
  const authenticate = makeAuthenticate(verification, resolve);
  return async (token) =>
    await authenticate(`Bearer ${token}`).then(
      () => 'ok',
      (problem: { code?: string }) => problem.code ?? 'no problem of ours',
    );
}

async function local(key: Key): Promise<{ ask: Ask; asked: () => number; verification: Verification }> {
  const made = localVerification({ issuer, audience, publicKey: await toJwk(key) });
  let asked = 0;
  const keys: Verification['keys'] = async (header) => {
    asked += 1;
    return await made.keys(header);
  };
  const verification = { ...made, keys };
  return { ask: asking(verification), asked: () => asked, verification };
}

describe('a good token that is sent again', () => {
  it('is not verified again, but its key is asked for each time', async () => {
    const key = ed25519('k-1');
    const { ask, asked } = await local(key);
    const token = await signed(key);
    for (let time = 1; time <= 20; time++) expect(await ask(token)).toBe('ok');
    expect([signatureChecks.mock.calls.length, asked()]).toEqual([1, 20]);
    expect(await ask(await signed(key, { sub: 'user-18' }))).toBe('ok');
    expect(signatureChecks).toHaveBeenCalledTimes(2);
  });

  it('is another token when one character differs', async () => {
    const key = ed25519('k-1');
    const { ask } = await local(key);
    const token = await signed(key);
    expect(await ask(token)).toBe('ok');
    for (let at = 0; at < token.length; at++) {
      const other = token[at] === 'A' ? 'B' : 'A';
      const altered = token.slice(0, at) + other + token.slice(at + 1);
      expect([altered, await ask(altered)]).toEqual([altered, 'unauthenticated']);
    }
    expect(await ask(token)).toBe('ok');
  });

  it('is good until the second at which it would be refused, and from the one at which it would be taken', async () => {
    const key = ed25519('k-1');
    const { ask, verification } = await local(key);
    const goTo = stopClock();
    const token = await signed(key, { exp: now() + 60, nbf: now() - 10 });
    // The tolerated difference of the clocks is 30 seconds.
    const times = [0, 59, 89, 90, 91, 0, -40, -41, 0];
    const fares: string[] = [];
    for (const seconds of times) {
      goTo(seconds);
      fares.push(await ask(token));
      expect(await asking(verification)(token)).toBe(fares.at(-1));
    }
    const no = 'unauthenticated';
    expect(fares).toEqual(['ok', 'ok', 'ok', no, no, 'ok', 'ok', no, 'ok']);
    goTo(89.999);
    expect(await ask(token)).toBe('ok');
  });

  it('speaks for nobody once its organisation is no more in the directory', async () => {
    const key = ed25519('k-1');
    const { verification } = await local(key);
    let isThere = true;
    const ask = asking(verification, async (slugs) =>
      isThere ? await directory(slugs) : { distributor: null, maker: null },
    );
    const token = await signed(key);
    expect(await ask(token)).toBe('ok');
    isThere = false;
    expect(await ask(token)).toBe('forbidden');
  });
});

describe('a token that was refused', () => {
  it('is verified again', async () => {
    const key = ed25519('k-1');
    const { ask } = await local(key);
    const goTo = stopClock();
    const early = await signed(key, { nbf: now() + 100, exp: now() + 300 });
    const stranger = await signed({ ...ed25519('k-2'), kid: 'k-1' });
    for (const token of [early, stranger, early, stranger]) expect(await ask(token)).toBe('unauthenticated');
    expect(signatureChecks).toHaveBeenCalledTimes(4);
    goTo(100);
    expect(await ask(early)).toBe('ok');
  });
});

describe("when the issuer's keys change", () => {
  async function published(
    ...keys: Key[]
  ): Promise<{ ask: Ask; publish: (...keys: Key[]) => void; fetched: () => number }> {
    let current = keys;
    let fetched = 0;
    const fetch = async () => {
      fetched += 1;
      if (current.length === 0) return new Response('no', { status: 500 });
      return new Response(JSON.stringify({ keys: await Promise.all(current.map(toJwk)) }));
    };
    const verification = issuerVerification({ issuer, audience, jwksUrl: 'https://issuer.example/keys', fetch });
    return {
      ask: asking(verification),
      publish: (...more) => {
        current = more;
      },
      fetched: () => fetched,
    };
  }
  const [one, two] = [ed25519('k-1'), ed25519('k-2')];
  /** The keys are fetched anew ten minutes after they were fetched. */
  const kept = 600;

  it('a token of a key that was taken out is refused as soon as the keys are fetched anew', async () => {
    const goTo = stopClock();
    const { ask, publish, fetched } = await published(one, two);
    const [ofOne, ofTwo] = [await signed(one, { exp: now() + 3_600 }), await signed(two, { exp: now() + 3_600 })];
    expect([await ask(ofOne), await ask(ofTwo)]).toEqual(['ok', 'ok']);
    publish(two);
    goTo(kept - 1);
    expect([await ask(ofOne), fetched()]).toEqual(['ok', 1]);
    goTo(kept);
    expect([await ask(ofOne), await ask(ofTwo), fetched()]).toEqual(['unauthenticated', 'ok', 2]);
    // The key that stayed is another object now: everything was verified once again.
    expect(signatureChecks).toHaveBeenCalledTimes(3);
  });

  it('an unknown key id makes them be fetched anew, and what was taken out is missed', async () => {
    const goTo = stopClock();
    const { ask, publish, fetched } = await published(one);
    const token = await signed(one, { exp: now() + 3_600 });
    expect(await ask(token)).toBe('ok');
    publish(two);
    goTo(31);
    expect(await ask(await signed(two))).toBe('ok');
    expect([await ask(token), fetched()]).toEqual(['unauthenticated', 2]);
  });

  it('another key under the same id is another key', async () => {
    const goTo = stopClock();
    const { ask, publish } = await published(one);
    const token = await signed(one, { exp: now() + 3_600 });
    expect(await ask(token)).toBe('ok');
    publish({ ...two, kid: 'k-1' });
    goTo(kept);
    expect(await ask(token)).toBe('unauthenticated');
  });

  it('keys that cannot be fetched anew are unavailable to tokens that were verified, too', async () => {
    const goTo = stopClock();
    const { ask, publish } = await published(one);
    const token = await signed(one, { exp: now() + 3_600 });
    expect(await ask(token)).toBe('ok');
    publish();
    goTo(kept);
    expect(await ask(token)).toBe('token-keys-unavailable');
    publish(one);
    expect(await ask(token)).toBe('ok');
  });
});

describe('no more tokens are kept than the bound', () => {
  it('and the one that was not used for longest goes first', async () => {
    const key = await localVerification({ issuer, audience, publicKey: await toJwk(ed25519('k-1')) }).keys({
      alg: 'EdDSA',
    });
    const tokens = new VerifiedTokens<string>({ keys: async () => key, toleratedSeconds: 0, most: 3 });
    const verified: string[] = [];
    const ask = async (token: string) =>
      await tokens.claimsOf(token, async (): Promise<Verified<string>> => {
        verified.push(token);
        return { header: {}, key, claims: `of ${token}`, notBefore: 0, expires: now() + 60 };
      });
    for (const token of ['a', 'b', 'c', 'a', 'd', 'c', 'a', 'd', 'b', 'c'])
      expect(await ask(token)).toBe(`of ${token}`);
    expect(verified).toEqual(['a', 'b', 'c', 'd', 'b', 'c']);
  });
});
