/**
 * The keys of a trial in containers, made once and kept in three volumes, so that each container sees its own:
 *
 *   /keys/issuer     the private key that signs tokens; for the operator's commands
 *   /keys/published  the issuer's public keys (JWKS, RFC 7517) and the TLS key and certificate of its address `issuer`
 *   /keys/service    that certificate, which the service trusts, and the private key that signs receipts
 *
 * A real deployment has an issuer of its own and mounts a receipts key of its own (SIGNING_KEY_FILE).
 */
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { localPublicKey } from '../src/app/issue-token.ts';
import { loadSigner } from '../src/store/local-keys.ts';

const published = '/keys/published';
const service = '/keys/service';

await loadSigner({ dataDir: service });
writeFileSync(`${published}/jwks.json`, JSON.stringify({ keys: [await localPublicKey('/keys/issuer')] }));
if (!existsSync(`${published}/issuer.pem`)) makeCertificate();
writeFileSync(`${service}/issuer.crt`, certificateOf(readFileSync(`${published}/issuer.pem`, 'utf8')));
console.log('the keys of the trial are there');

/** Certificate and key in one file, as the proxy takes them; under its name only once it is whole. */
function makeCertificate(): void {
  const draft = `${published}/draft.pem`;
  const curve = ['-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:P-256', '-nodes'];
  const names = ['-subj', '/CN=issuer', '-addext', 'subjectAltName=DNS:issuer'];
  const options = [...curve, ...names, '-days', '3650', '-keyout', draft, '-out', '-'];
  const certificate = execFileSync('openssl', ['req', '-x509', ...options], { encoding: 'utf8' });
  writeFileSync(draft, `${certificate}${readFileSync(draft, 'utf8')}`);
  renameSync(draft, `${published}/issuer.pem`);
}

function certificateOf(pem: string): string {
  const found = /-----BEGIN CERTIFICATE-----[^-]+-----END CERTIFICATE-----\n/.exec(pem)?.[0];
  if (found === undefined) throw new Error('issuer.pem holds no certificate: remove the volumes and begin anew.');
  return found;
}
