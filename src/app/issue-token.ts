/** Tokens of the local key, for a service on the loopback: trying it out, tests, the demo. */
import { exportJWK, type JWK, SignJWT } from 'jose';
import { loadTokenKey } from '../store/local-keys.ts';
import type { Scope } from './asker.ts';

/** Issuer and audience of local tokens. */
export const localIssuer = 'asfitted-local';
export const localAudience = 'asfitted';

export type TokenRequest = {
  readonly distributor: string | null;
  readonly maker: string | null;
  readonly scopes: readonly Scope[];
  readonly subject: string;
  readonly client: string;
  readonly minutes: number;
};

/** A JWT access token (RFC 9068), valid from `now`. */
export async function issueToken(dataDir: string, request: TokenRequest, now: Date): Promise<string> {
  const { kid, privateKey } = await loadTokenKey(dataDir);
  const seconds = Math.floor(now.getTime() / 1000);
  return new SignJWT({
    client_id: request.client,
    scope: request.scopes.join(' '),
    ...(request.distributor === null ? {} : { distributor: request.distributor }),
    ...(request.maker === null ? {} : { maker: request.maker }),
  })
    .setProtectedHeader({ alg: 'EdDSA', typ: 'at+jwt', kid })
    .setIssuer(localIssuer)
    .setAudience(localAudience)
    .setSubject(request.subject)
    .setIssuedAt(seconds)
    .setExpirationTime(seconds + request.minutes * 60)
    .sign(privateKey);
}

/** The public half, which the service checks local tokens with. */
export async function localPublicKey(dataDir: string): Promise<JWK> {
  const { kid, publicKey } = await loadTokenKey(dataDir);
  return { ...(await exportJWK(publicKey)), kid, alg: 'EdDSA', use: 'sig' };
}
