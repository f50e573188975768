/**
 * Tokens that must not be accepted. Sources: RFC 8725 (JWT best practices: algorithms, types, keys in headers), RFC 9068 §4
 * (what a resource server checks of an access token), RFC 7519 §4.1 (claims), RFC 7515 §4.1 (header members), RFC 6750 §2.1
 * (the header).
 */
import { createHmac, generateKeyPairSync, sign } from 'node:crypto';
import { goodClaims, type Key, now, signed, toJwk } from './shell.ts';

/** What is sent as Authorization; undefined sends none. */
export type BadToken = { kind: string; authorization: string | undefined };

export async function badTokens(key: Key): Promise<BadToken[]> {
  const good = await signed(key);
  const bearer = (kind: string, token: string): BadToken => ({ kind, authorization: `Bearer ${token}` });
  return [
    ...badHeaders(good),
    ...badShapes(good).map(([kind, token]) => bearer(kind, token)),
    ...(await badAlgorithms(key)).map(([kind, token]) => bearer(kind, token)),
    ...(await badJoseHeaders(key)).map(([kind, token]) => bearer(kind, token)),
    ...(await badClaims(key)).map(([kind, token]) => bearer(kind, token)),
    ...(await tampered(key, good)).map(([kind, token]) => bearer(kind, token)),
  ];
}

function badHeaders(good: string): BadToken[] {
  return [
    { kind: 'no header', authorization: undefined },
    { kind: 'an empty header', authorization: '' },
    { kind: 'a password', authorization: `Basic ${Buffer.from('user:password').toString('base64')}` },
    { kind: 'the scheme alone', authorization: 'Bearer' },
    { kind: 'the scheme and a space', authorization: 'Bearer ' },
    { kind: 'no scheme', authorization: good },
    { kind: 'another scheme', authorization: `Token ${good}` },
    { kind: 'two tokens', authorization: `Bearer ${good} ${good}` },
    { kind: 'two tokens with a comma', authorization: `Bearer ${good}, Bearer ${good}` },
    { kind: 'a token in quotes', authorization: `Bearer "${good}"` },
    { kind: 'the word null', authorization: 'Bearer null' },
  ];
}

type Named = [kind: string, token: string];

function badShapes(good: string): Named[] {
  const [header = '', payload = '', signature = ''] = good.split('.');
  return [
    ['one part', header],
    ['two parts', `${header}.${payload}`],
    ['four parts', `${good}.${signature}`],
    ['five parts', `${header}.${payload}.${signature}.${payload}.${signature}`],
    ['an empty signature', `${header}.${payload}.`],
    ['an empty payload', `${header}..${signature}`],
    ['an empty header', `.${payload}.${signature}`],
    ['a header that is not JSON', `${encode('{alg')}.${payload}.${signature}`],
    ['a header that is a list', `${encode('[]')}.${payload}.${signature}`],
    ['a huge token', `${header}.${'a'.repeat(20_000)}.${signature}`],
    ['padding', `${good}==`],
  ];
}

async function badAlgorithms(key: Key): Promise<Named[]> {
  const pem = key.publicKey.export({ type: 'spki', format: 'pem' });
  const der = key.publicKey.export({ type: 'spki', format: 'der' });
  const jwk = JSON.stringify(await toJwk(key));
  const none = (alg: unknown): string => `${encode({ alg, kid: key.kid, typ: 'at+jwt' })}.${encode(goodClaims())}.`;
  const hmac = (alg: string, hash: string, secret: string | Buffer): string => {
    const input = `${encode({ alg, kid: key.kid, typ: 'at+jwt' })}.${encode(goodClaims())}`;
    return `${input}.${createHmac(hash, secret).update(input).digest('base64url')}`;
  };
  const claimed = (alg: string): string => {
    const input = `${encode({ alg, kid: key.kid, typ: 'at+jwt' })}.${encode(goodClaims())}`;
    const hash = key.alg === 'EdDSA' ? null : 'sha256';
    return `${input}.${sign(hash, Buffer.from(input), key.privateKey).toString('base64url')}`;
  };
  const zeros = Buffer.alloc(64).toString('base64url');
  return [
    ['alg none', none('none')],
    ['alg None', none('None')],
    ['alg NONE', none('NONE')],
    ['no alg', none(undefined)],
    ['an alg that is a number', none(5)],
    ['an alg that is a list', none([key.alg])],
    ['HS256 with the public key in PEM', hmac('HS256', 'sha256', pem)],
    ['HS256 with the public key in DER', hmac('HS256', 'sha256', der)],
    ['HS256 with the public key as a JWK', hmac('HS256', 'sha256', jwk)],
    ['HS512 with the public key in PEM', hmac('HS512', 'sha512', pem)],
    ['HS256 with an empty secret', hmac('HS256', 'sha256', '')],
    ['the key under the name HS256', claimed('HS256')],
    ['the key under the name PS256', claimed('PS256')],
    ['the key under the name ES384', claimed('ES384')],
    ['the key under an invented name', claimed('XX256')],
    [
      'ES256 with a signature of zeros',
      `${encode({ alg: 'ES256', kid: key.kid, typ: 'at+jwt' })}.${encode(goodClaims())}.${zeros}`,
    ],
    [
      'EdDSA with a signature of zeros',
      `${encode({ alg: 'EdDSA', kid: key.kid, typ: 'at+jwt' })}.${encode(goodClaims())}.${zeros}`,
    ],
  ];
}

async function badJoseHeaders(key: Key): Promise<Named[]> {
  const strange: Key = { ...key, ...strangerTo(key) };
  const jwk = await toJwk(strange);
  return [
    ['typ JWT, as an identity token has', await signed(key, {}, { typ: 'JWT' })],
    ['no typ', await signed(key, {}, { typ: undefined })],
    ['a typ that only begins alike', await signed(key, {}, { typ: 'at+jwt2' })],
    ['an unknown key id', await signed(key, {}, { kid: 'k-unknown' })],
    ['a key id that is a path', await signed(key, {}, { kid: '../../dev/null' })],
    ['a critical member that is unknown', await forge(key, { crit: ['urgent'], urgent: true })],
    ['an empty list of critical members', await forge(key, { crit: [] })],
    ['an unencoded payload', await forge(key, { crit: ['b64'], b64: false })],
    ['another key of the same kind', await signed(strange)],
    ['another key, sent along', await signed(strange, {}, { jwk })],
    ['another key, sent along, without id', await signed(strange, {}, { jwk, kid: undefined })],
    ['another key, to be fetched', await signed(strange, {}, { jku: 'http://127.0.0.1:9/keys' })],
    ['another key, as a certificate', await signed(strange, {}, { x5u: 'http://127.0.0.1:9/cert' })],
  ];
}

async function badClaims(key: Key): Promise<Named[]> {
  const claims: [string, Record<string, unknown>][] = [
    ['expired', { exp: now() - 600 }],
    ['expired beyond the tolerance', { exp: now() - 31 }],
    ['no exp', { exp: undefined }],
    ['an exp that is text', { exp: String(now() + 300) }],
    ['an exp of null', { exp: null }],
    ['not valid yet', { nbf: now() + 600 }],
    ['an nbf that is text', { nbf: 'now' }],
    ['no issuer', { iss: undefined }],
    ['another issuer', { iss: 'https://other.example' }],
    ['the issuer with a slash more', { iss: `${goodClaims()['iss']}/` }],
    ['the issuer in upper case', { iss: String(goodClaims()['iss']).toUpperCase() }],
    ['the issuer in a list', { iss: [goodClaims()['iss']] }],
    ['no audience', { aud: undefined }],
    ['another audience', { aud: 'https://other.example' }],
    ['a list of other audiences', { aud: ['https://other.example', 'https://another.example'] }],
    ['an empty list of audiences', { aud: [] }],
    ['an audience that is an object', { aud: { 0: goodClaims()['aud'] } }],
    ['no subject', { sub: undefined }],
    ['an empty subject', { sub: '' }],
    ['a subject that is a number', { sub: 17 }],
    ['a subject without end', { sub: 'x'.repeat(256) }],
    ['no client', { client_id: undefined }],
    ['a client that is a number', { client_id: 17 }],
    ['scopes in a list', { scope: ['record:write'] }],
    ['scopes that are a number', { scope: 1 }],
    ['scopes that are null', { scope: null }],
    ['a distributor in upper case', { distributor: 'Brackwater' }],
    ['a distributor that is a number', { distributor: 7 }],
    ['a distributor that is a list', { distributor: ['brackwater'] }],
    ['an empty distributor', { distributor: '' }],
    ['a distributor with a quote', { distributor: "brackwater' or '1'='1" }],
    ['a maker that is an object', { maker: { slug: 'ardenholm' } }],
  ];
  // Made by hand: a library refuses to sign some of these.
  return Promise.all(claims.map(async ([kind, more]): Promise<Named> => [kind, await forge(key, {}, more)]));
}

async function tampered(key: Key, good: string): Promise<Named[]> {
  const [header = '', payload = '', signature = ''] = good.split('.');
  const other = await signed(key, { sub: 'user-18' });
  const [, otherPayload = '', otherSignature = ''] = other.split('.');
  const flipped = Buffer.from(signature, 'base64url');
  flipped[10] = (flipped[10] ?? 0) ^ 1;
  return [
    ['the payload of another token', `${header}.${otherPayload}.${signature}`],
    ['the signature of another token', `${header}.${payload}.${otherSignature}`],
    ['more scopes written in', `${header}.${encode({ ...goodClaims(), scope: 'organisation:write' })}.${signature}`],
    ['another header over the same payload', `${encode({ alg: key.alg, typ: 'at+jwt' })}.${payload}.${signature}`],
    ['one bit of the signature flipped', `${header}.${payload}.${flipped.toString('base64url')}`],
    ['half of the signature', `${header}.${payload}.${signature.slice(0, 43)}`],
    ['unused bits set in the last letter of the signature', `${header}.${payload}.${lastBitSet(signature)}`],
    ['the signature twice', `${header}.${payload}.${signature}${signature}`],
    ['parts in another order', `${payload}.${header}.${signature}`],
  ];
}

/** Signs whatever it is given, in the key's own algorithm. */
async function forge(key: Key, header: Record<string, unknown>, claims: Record<string, unknown> = {}): Promise<string> {
  const head = { alg: key.alg, kid: key.kid, typ: 'at+jwt', ...header };
  const input = `${encode(head)}.${encode({ ...goodClaims(), ...claims })}`;
  const hash = key.alg === 'EdDSA' ? null : 'sha256';
  const signature = sign(hash, Buffer.from(input), { key: key.privateKey, dsaEncoding: 'ieee-p1363' });
  return `${input}.${signature.toString('base64url')}`;
}

function strangerTo(key: Key) {
  if (key.alg === 'ES256') return generateKeyPairSync('ec', { namedCurve: 'P-256' });
  if (key.alg === 'RS256') return generateKeyPairSync('rsa', { modulusLength: 2048 });
  return generateKeyPairSync('ed25519');
}

/** Decodes to the same bytes: 64 and 256 bytes leave unused bits in the last letter (RFC 4648 §3.5). */
function lastBitSet(text: string): string {
  const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';
  const last = letters.indexOf(text.slice(-1));
  return text.slice(0, -1) + letters.charAt(last | 1);
}

function encode(value: unknown): string {
  return Buffer.from(typeof value === 'string' ? value : JSON.stringify(value)).toString('base64url');
}
