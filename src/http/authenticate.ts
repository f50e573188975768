/** Bearer tokens: JWT access tokens (RFC 9068) checked against the issuer's keys or the local key. */
import {
  createLocalJWKSet,
  createRemoteJWKSet,
  customFetch,
  errors,
  type FetchImplementation,
  type JWK,
  jwtVerify,
} from 'jose';
import { z } from 'zod';
import { type Asker, type OrganisationSlugs, type ResolveOrganisations, type Scope, scopes } from '../app/asker.ts';
import { Problem } from '../errors.ts';
import { type Keys, type Verified, VerifiedTokens } from './verified-tokens.ts';

/** Who sends this Authorization header. @throws Problem unauthenticated, forbidden or token-keys-unavailable. */
export type Authenticate = (authorization: string | undefined) => Promise<Asker>;

export type Verification = {
  readonly issuer: string;
  readonly audience: string;
  readonly algorithms: readonly string[];
  readonly keys: Keys;
};

/** Seconds that the issuer's clock and ours may differ. */
const toleratedSeconds = 30;
/** Characters. Ours have some 400; a longer one isn't worth parsing. */
const maxTokenLength = 8_192;

/**
 * RS256 because RFC 9068 §4 demands it, ES256 and Ed25519 (also under its older name EdDSA) because issuers use them.
 * Nothing symmetric: a public key must never serve as a secret.
 */
const issuerAlgorithms = ['Ed25519', 'EdDSA', 'ES256', 'RS256'];
const localAlgorithms = ['EdDSA'];

export function makeAuthenticate(verification: Verification, resolve: ResolveOrganisations): Authenticate {
  const keys = orUnavailable(verification.keys);
  const tokens = new VerifiedTokens<Claims>({ keys, toleratedSeconds });
  return async (authorization) => {
    const claims = await claimsOf(bearerToken(authorization), { ...verification, keys }, tokens);
    const slugs = { distributor: claims.distributor ?? null, maker: claims.maker ?? null };
    return {
      ...slugs,
      subject: claims.sub,
      client: claims.client,
      scopes: knownScopes(claims.scope ?? ''),
      organisations: await requireOrganisations(slugs, resolve),
      shown: new Map(),
    };
  };
}

/** Tokens of an outside issuer. An unknown key id makes the keys be fetched again, at most every 30 seconds. */
export function issuerVerification(options: {
  issuer: string;
  audience: string;
  jwksUrl: string;
  fetch?: FetchImplementation;
}): Verification {
  const { issuer, audience, jwksUrl } = options;
  const keys = createRemoteJWKSet(new URL(jwksUrl), {
    cooldownDuration: 30_000,
    cacheMaxAge: 600_000,
    timeoutDuration: 3_000,
    ...(options.fetch === undefined ? {} : { [customFetch]: options.fetch }),
  });
  return { issuer, audience, algorithms: issuerAlgorithms, keys };
}

/** Tokens of the local key, for a service on the loopback. */
export function localVerification(options: { issuer: string; audience: string; publicKey: JWK }): Verification {
  const { issuer, audience, publicKey } = options;
  return { issuer, audience, algorithms: localAlgorithms, keys: createLocalJWKSet({ keys: [publicKey] }) };
}

/** A slug of the directory: lower case, as in paths. */
const slug = z.string().regex(/^[a-z0-9](?:[a-z0-9-]{0,48}[a-z0-9])?$/);
const name = z.string().min(1).max(255);

/** Beside issuer, audience and times, which are checked with the signature: the library lets a token without exp live for ever. */
const claimsSchema = z
  .object({
    sub: name,
    exp: z.number(),
    client_id: name.optional(),
    azp: name.optional(),
    scope: z.string().max(2_000).optional(),
    distributor: slug.optional(),
    maker: slug.optional(),
  })
  .transform(({ client_id, azp, ...claims }, context) => {
    const client = client_id ?? azp;
    if (client !== undefined) return { ...claims, client };
    context.addIssue({ code: 'custom', path: ['client_id'], message: 'is missing' });
    return z.NEVER;
  });

type Claims = z.output<typeof claimsSchema>;

/**
 * RFC 6750 §2.1; the scheme compares without case (RFC 9110 §11.1). Three parts in base64url without padding (RFC 7515 §2),
 * and the signature in its one canonical spelling (RFC 4648 §3.5), so that no token has a second spelling.
 */
function bearerToken(authorization: string | undefined): string {
  if (authorization === undefined) throw refused('Send a bearer token in the header Authorization.', 'Bearer');
  const token = /^bearer +([\w-]+\.[\w-]+\.[\w-]+)$/i.exec(authorization)?.[1];
  if (token === undefined) throw refused('The header Authorization must be "Bearer" and one signed JWT.');
  if (token.length > maxTokenLength) throw refused('The token is too long.');
  const signature = token.slice(token.lastIndexOf('.') + 1);
  if (Buffer.from(signature, 'base64url').toString('base64url') !== signature) {
    throw refused('The token cannot be verified.');
  }
  return token;
}

async function claimsOf(token: string, verification: Verification, tokens: VerifiedTokens<Claims>): Promise<Claims> {
  try {
    return await tokens.claimsOf(token, () => verify(token, verification));
  } catch (error) {
    throw error instanceof Problem ? error : refused(tokenFault(error), invalidToken, error);
  }
}

async function verify(token: string, { issuer, audience, algorithms, keys }: Verification): Promise<Verified<Claims>> {
  const { payload, protectedHeader, key } = await jwtVerify(token, (header) => keys(header), {
    issuer,
    audience,
    algorithms: [...algorithms],
    typ: 'at+jwt',
    clockTolerance: toleratedSeconds,
  });
  const claims = claimsSchema.safeParse(payload);
  if (claims.success) {
    const { data } = claims;
    return { header: protectedHeader, key, claims: data, notBefore: payload.nbf ?? 0, expires: data.exp };
  }
  const wrong = [...new Set(claims.error.issues.map((issue) => issue.path.join('.')))];
  throw refused(`The token's claims ${wrong.join(', ')} are missing or not as expected.`);
}

/** A key set that can't be had is no fault of the token: 503, not 401. */
function orUnavailable(keys: Keys): Keys {
  return async (header) => {
    try {
      return await keys(header);
    } catch (cause) {
      if (keyFaults.some((fault) => cause instanceof fault)) throw cause;
      throw new Problem('token-keys-unavailable', "The issuer's keys cannot be fetched; try again.", { cause });
    }
  };
}

/** The set was there and the token's header fits no key of it, or not one alone. */
const keyFaults = [errors.JWKSNoMatchingKey, errors.JWKSMultipleMatchingKeys, errors.JOSENotSupported];

function tokenFault(error: unknown): string {
  if (error instanceof errors.JWTExpired) return 'The token has expired; get a new one.';
  if (error instanceof errors.JWTClaimValidationFailed) {
    return `The token's ${error.claim} is missing or not what this service takes.`;
  }
  if (error instanceof errors.JOSEAlgNotAllowed) return 'The token is signed by an algorithm that is not taken here.';
  if (error instanceof errors.JWKSNoMatchingKey) return 'The token names a key that its issuer does not publish.';
  return 'The token cannot be verified.';
}

const invalidToken = 'Bearer error="invalid_token"';

function refused(detail: string, challenge = invalidToken, cause?: unknown): Problem {
  return new Problem('unauthenticated', detail, { headers: { 'www-authenticate': challenge }, cause });
}

/** Scopes that this service doesn't know belong to others and are passed over. */
function knownScopes(text: string): ReadonlySet<Scope> {
  const stated = new Set(text.split(' '));
  return new Set(scopes.filter((scope) => stated.has(scope)));
}

async function requireOrganisations(slugs: OrganisationSlugs, resolve: ResolveOrganisations) {
  if (slugs.distributor === null && slugs.maker === null) {
    throw new Problem('forbidden', 'The token names neither a distributor nor a maker that it speaks for.');
  }
  const ids = await resolve(slugs);
  for (const kind of ['distributor', 'maker'] as const) {
    if (slugs[kind] !== null && ids[kind] === null) {
      throw new Problem(
        'forbidden',
        `The token speaks for the ${kind} ${slugs[kind]}, which is not in this service's directory; its operator can add it.`,
      );
    }
  }
  return ids;
}
