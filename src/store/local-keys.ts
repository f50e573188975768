/** Ed25519 keys kept as files: the key that signs local tokens and the key that signs receipts. */
import {
  createHash,
  createPrivateKey,
  createPublicKey,
  generateKeyPairSync,
  type KeyObject,
  randomUUID,
  sign,
} from 'node:crypto';
import { link, mkdir, open, readFile, stat, unlink, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { keyIdOf, type VerifierKey, verifierKeyIn, verifierKeyText } from '../core/log/note.ts';

export type Signer = {
  /** Names the key in receipts and notes. */
  readonly name: string;
  /** The key ID of C2SP signed-note as eight hexadecimal digits. */
  readonly keyId: string;
  /** The 32 bytes of RFC 8032. */
  readonly publicKey: Uint8Array;
  /** The C2SP vkey. */
  readonly verifierKey: string;
  /** The 64 bytes of an Ed25519 signature (RFC 8032). */
  readonly sign: (bytes: Uint8Array) => Uint8Array;
};

/**
 * The key that signs receipts: PKCS #8 PEM from `file`, which must exist, or made in `dataDir`.
 * @throws Error that names the file where it is missing, no Ed25519 key, or readable by others.
 */
export async function loadSigner(from: { file: string } | { dataDir: string }, name = 'asfitted'): Promise<Signer> {
  const file = 'file' in from ? from.file : await madeKey(from.dataDir, 'receipts.pem');
  const privateKey = await readKey(file);
  const publicKey = rawPublicKey(privateKey);
  const keyId = keyIdOf(name, publicKey);
  return {
    name,
    keyId,
    publicKey,
    verifierKey: verifierKeyText({ name, keyId, publicKey }),
    sign: (bytes) => new Uint8Array(sign(null, bytes, privateKey)),
  };
}

/** The keys of the log: those that sign, the first of them receipts too, and those that signed before. */
export type LogKeys = { readonly signers: readonly [Signer, ...Signer[]]; readonly former: readonly VerifierKey[] };

/** From each of `files`; without any, one that is made in `dataDir`. @throws as `loadSigner`, or what is no vkey */
export async function loadLogKeys(from: {
  readonly files: readonly string[];
  readonly dataDir: string;
  readonly name: string;
  readonly formerKeys: readonly string[];
}): Promise<LogKeys> {
  const { files, dataDir, name, formerKeys } = from;
  const [first, ...more] = files;
  return {
    signers: [
      await loadSigner(first === undefined ? { dataDir } : { file: first }, name),
      ...(await Promise.all(more.map((file) => loadSigner({ file }, name)))),
    ],
    former: formerKeys.map((text) => {
      const key = verifierKeyIn(text);
      if (key === null) throw new Error(`LOG_FORMER_KEYS: ${text} is no vkey (C2SP signed-note)`);
      return key;
    }),
  };
}

/** The key that signs local tokens, made in `dataDir` when first asked for. */
export async function loadTokenKey(
  dataDir: string,
): Promise<{ kid: string; privateKey: KeyObject; publicKey: KeyObject }> {
  const privateKey = await readKey(await madeKey(dataDir, 'tokens.pem'));
  const kid = createHash('sha256').update(rawPublicKey(privateKey)).digest('base64url').slice(0, 16);
  return { kid, privateKey, publicKey: createPublicKey(privateKey) };
}

/** Makes the key unless it is there. Two processes at once end with the same one: `link` never replaces a file. */
async function madeKey(dataDir: string, fileName: string): Promise<string> {
  const file = join(dataDir, 'keys', fileName);
  if (await exists(file)) return file;
  await mkdir(dirname(file), { recursive: true, mode: 0o700 });
  const draft = `${file}.${randomUUID()}`;
  const pem = generateKeyPairSync('ed25519').privateKey.export({ type: 'pkcs8', format: 'pem' });
  await writeFile(draft, pem, { mode: 0o600, flag: 'wx', flush: true });
  try {
    await link(draft, file);
    await flushDirectory(dirname(file));
  } catch (error) {
    if (!hasCode(error, 'EEXIST')) throw error;
  } finally {
    await unlink(draft);
  }
  return file;
}

async function readKey(file: string): Promise<KeyObject> {
  const pem = await readFile(file).catch((cause: unknown) => {
    throw new Error(`the key file ${file} cannot be read`, { cause });
  });
  if (((await stat(file)).mode & 0o077) !== 0) {
    throw new Error(`the key file ${file} can be read by others; make it private: chmod 600 ${file}`);
  }
  const key = toPrivateKey(pem);
  if (key?.asymmetricKeyType !== 'ed25519') {
    throw new Error(`the key file ${file} holds no Ed25519 private key in PEM (openssl genpkey -algorithm ed25519)`);
  }
  return key;
}

/** No cause: a parser's message might quote the key. */
function toPrivateKey(pem: Buffer): KeyObject | null {
  try {
    return createPrivateKey({ key: pem, format: 'pem' });
  } catch {
    return null;
  }
}

/** The last 32 bytes of the SubjectPublicKeyInfo (RFC 8410 §4). */
function rawPublicKey(key: KeyObject): Uint8Array {
  return new Uint8Array(createPublicKey(key).export({ type: 'spki', format: 'der' }).subarray(-32));
}

/** A key that signed a receipt must still be there after a crash. */
async function flushDirectory(directory: string): Promise<void> {
  const handle = await open(directory, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

async function exists(file: string): Promise<boolean> {
  try {
    await stat(file);
    return true;
  } catch (error) {
    if (hasCode(error, 'ENOENT')) return false;
    throw error;
  }
}

function hasCode(error: unknown, code: string): boolean {
  return error instanceof Error && 'code' in error && error.code === code;
}
