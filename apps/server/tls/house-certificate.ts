// The library needs it when it is loaded.
import 'reflect-metadata';
import { X509Certificate as ParsedCertificate } from 'node:crypto';
import { chmodSync, existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import * as x509 from '@peculiar/x509';
import { nameConstraints, nameConstraintsId } from './name-constraints.js';

const dayMs = 86_400_000;
const algorithm = { name: 'ECDSA', namedCurve: 'P-256', hash: 'SHA-256' } as const;
const authorityDays = 3650;
/**
 * Apple accepts at most 825 days for a certificate from a private authority (its support note HT210176, from memory).
 */
const leafDays = 397;
const renewDays = 30;

export interface HouseCertificate {
  readonly cert: string;
  readonly key: string;
  /** PEM of the authority's certificate: all that another device gets. */
  readonly authority: string;
  /** SHA-256 of the authority's certificate, as browsers and phones show it. */
  readonly fingerprint: string;
  /** This call made the authority: devices must trust it (anew). */
  readonly isNew: boolean;
  /** This call made the server's certificate. */
  readonly renewed: boolean;
}

interface Pair {
  readonly cert: string;
  readonly key: string;
}

/**
 * The certificate with which this machine serves the house, signed by the house's own authority; both are stored in
 * `folder` (0700, keys 0600). The authority is made once; the server's certificate when there is none, when the machine
 * has other names or addresses than it lists, and thirty days before it expires.
 */
export async function houseCertificate(
  folder: string,
  { names, addresses }: { readonly names: readonly string[]; readonly addresses: readonly string[] },
  now: Date,
): Promise<HouseCertificate> {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const saved = savedPair(folder, 'authority');
  const usable = saved && isValid(saved.cert, now) ? saved : undefined;
  const authority = usable ?? savePair(folder, 'authority', await makeAuthority(now));
  const wantedNames = JSON.stringify({ names, addresses });
  const savedLeaf = savedPair(folder, 'server');
  const isUsable =
    savedLeaf && readIfExists(join(folder, 'server.names')) === wantedNames && isIssuedBy(savedLeaf, authority, now);
  const leaf = isUsable
    ? savedLeaf
    : savePair(folder, 'server', await makeLeaf(authority, [...names], [...addresses], now));
  if (!isUsable) writePrivate(join(folder, 'server.names'), wantedNames);
  return {
    ...leaf,
    cert: `${leaf.cert}\n${authority.cert}\n`,
    authority: `${authority.cert}\n`,
    fingerprint: new ParsedCertificate(authority.cert).fingerprint256,
    isNew: usable === undefined,
    renewed: !isUsable,
  };
}

async function makeAuthority(now: Date): Promise<Pair> {
  const keys = await crypto.subtle.generateKey(algorithm, true, ['sign', 'verify']);
  const made = await x509.X509CertificateGenerator.createSelfSigned({
    name: `CN=Boilbook house authority ${now.toISOString().slice(0, 10)}`,
    notBefore: new Date(now.getTime() - dayMs),
    notAfter: new Date(now.getTime() + authorityDays * dayMs),
    keys,
    signingAlgorithm: algorithm,
    extensions: [
      new x509.BasicConstraintsExtension(true, 0, true),
      new x509.KeyUsagesExtension(x509.KeyUsageFlags.keyCertSign | x509.KeyUsageFlags.cRLSign, true),
      new x509.ExtendedKeyUsageExtension([x509.ExtendedKeyUsage.serverAuth], false),
      new x509.Extension(nameConstraintsId, true, nameConstraints()),
      await x509.SubjectKeyIdentifierExtension.create(keys.publicKey),
    ],
  });
  return { cert: made.toString('pem'), key: await pemOf(keys.privateKey) };
}

async function makeLeaf(authority: Pair, names: readonly string[], addresses: readonly string[], now: Date) {
  const issuer = new x509.X509Certificate(authority.cert);
  const keys = await crypto.subtle.generateKey(algorithm, true, ['sign', 'verify']);
  const made = await x509.X509CertificateGenerator.create({
    subject: 'CN=Boilbook of this house',
    issuer: issuer.subject,
    notBefore: new Date(now.getTime() - dayMs),
    notAfter: new Date(Math.min(now.getTime() + leafDays * dayMs, issuer.notAfter.getTime())),
    publicKey: keys.publicKey,
    signingKey: await crypto.subtle.importKey('pkcs8', x509.PemConverter.decodeFirst(authority.key), algorithm, false, [
      'sign',
    ]),
    signingAlgorithm: algorithm,
    extensions: [
      new x509.BasicConstraintsExtension(false, undefined, true),
      new x509.KeyUsagesExtension(x509.KeyUsageFlags.digitalSignature, true),
      new x509.ExtendedKeyUsageExtension([x509.ExtendedKeyUsage.serverAuth], false),
      new x509.SubjectAlternativeNameExtension([
        ...names.map((value) => ({ type: 'dns' as const, value })),
        ...addresses.map((value) => ({ type: 'ip' as const, value })),
      ]),
      await x509.SubjectKeyIdentifierExtension.create(keys.publicKey),
      await x509.AuthorityKeyIdentifierExtension.create(await issuer.publicKey.export()),
    ],
  });
  return { cert: made.toString('pem'), key: await pemOf(keys.privateKey) };
}

const pemOf = async (key: CryptoKey): Promise<string> =>
  x509.PemConverter.encode(await crypto.subtle.exportKey('pkcs8', key), 'PRIVATE KEY');

const isValid = (cert: string, now: Date): boolean =>
  Date.parse(new ParsedCertificate(cert).validTo) - now.getTime() > renewDays * dayMs;

function isIssuedBy(leaf: Pair, authority: Pair, now: Date): boolean {
  const parsed = new ParsedCertificate(leaf.cert);
  const issuer = new ParsedCertificate(authority.cert);
  // The clock was wrong when it was made, so it isn't valid yet.
  const hasBegun = Date.parse(parsed.validFrom) <= now.getTime();
  return hasBegun && isValid(leaf.cert, now) && parsed.checkIssued(issuer) && parsed.verify(issuer.publicKey);
}

function savedPair(folder: string, name: string): Pair | undefined {
  const cert = readIfExists(join(folder, `${name}.crt`));
  const key = readIfExists(join(folder, `${name}.key`));
  return cert === undefined || key === undefined ? undefined : { cert, key };
}

function savePair(folder: string, name: string, pair: Pair): Pair {
  writePrivate(join(folder, `${name}.key`), pair.key);
  writePrivate(join(folder, `${name}.crt`), pair.cert);
  return pair;
}

const readIfExists = (file: string): string | undefined => (existsSync(file) ? readFileSync(file, 'utf8') : undefined);

function writePrivate(file: string, text: string): void {
  writeFileSync(`${file}.part`, text, { mode: 0o600 });
  chmodSync(`${file}.part`, 0o600);
  renameSync(`${file}.part`, file);
}
