import { createSign, generateKeyPairSync, randomBytes } from 'node:crypto';

/** A self-signed certificate for localhost, made for one test: DER assembled by hand (RFC 5280). */
export function makeCertificate(): { cert: string; key: string } {
  const { privateKey, publicKey } = generateKeyPairSync('ec', { namedCurve: 'prime256v1' });
  const name = sequence(set(sequence(tlv(0x06, '550403'), utf8('localhost'))));
  const ecdsaWithSha256 = sequence(tlv(0x06, '2a8648ce3d040302'));
  const names = sequence(tlv(0x82, Buffer.from('localhost')), tlv(0x87, '7f000001'));
  const tbs = sequence(
    tlv(0xa0, tlv(0x02, '02')),
    tlv(0x02, Buffer.concat([Buffer.from([1]), randomBytes(8)])),
    ecdsaWithSha256,
    name,
    sequence(time('200101000000Z'), time('491231235959Z')),
    name,
    publicKey.export({ type: 'spki', format: 'der' }),
    tlv(0xa3, sequence(sequence(tlv(0x06, '551d11'), tlv(0x04, names)))),
  );
  const signature = createSign('SHA256').update(tbs).sign(privateKey);
  const whole = sequence(tbs, ecdsaWithSha256, tlv(0x03, Buffer.concat([Buffer.from([0]), signature])));
  const lines = whole.toString('base64').match(/.{1,64}/g) ?? [];
  return {
    cert: `-----BEGIN CERTIFICATE-----\n${lines.join('\n')}\n-----END CERTIFICATE-----\n`,
    key: privateKey.export({ type: 'pkcs8', format: 'pem' }) as string,
  };
}

function tlv(tag: number, content: Buffer | string): Buffer {
  const bytes = typeof content === 'string' ? Buffer.from(content, 'hex') : content;
  const { length } = bytes;
  const size = length < 128 ? [length] : length < 256 ? [0x81, length] : [0x82, length >> 8, length & 255];
  return Buffer.concat([Buffer.from([tag, ...size]), bytes]);
}
const sequence = (...parts: Buffer[]): Buffer => tlv(0x30, Buffer.concat(parts));
const set = (...parts: Buffer[]): Buffer => tlv(0x31, Buffer.concat(parts));
const utf8 = (text: string): Buffer => tlv(0x0c, Buffer.from(text));
const time = (text: string): Buffer => tlv(0x17, Buffer.from(text));
