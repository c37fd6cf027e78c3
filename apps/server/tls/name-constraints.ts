import { localEndings, privateNetworks } from './house-names.js';

/** Object identifier of the extension (RFC 5280, section 4.2.1.10). */
export const nameConstraintsId = '2.5.29.30';

/**
 * The extension's value in DER: permits names under the local endings and addresses of private networks, and no others.
 * The certificate library has no class for it.
 */
export function nameConstraints(): Buffer<ArrayBuffer> {
  const subtree = (tag: number, value: Buffer): Buffer => tlv(0x30, tlv(tag, value));
  return tlv(
    0x30,
    tlv(
      0xa0,
      ...localEndings.map((name) => subtree(0x82, Buffer.from(name, 'ascii'))),
      ...privateNetworks.map((network) => subtree(0x87, Buffer.from(network, 'hex'))),
    ),
  );
}

function tlv(tag: number, ...parts: readonly Buffer[]): Buffer<ArrayBuffer> {
  const content = Buffer.concat(parts);
  const { length } = content;
  const size = length < 128 ? [length] : length < 256 ? [0x81, length] : [0x82, length >> 8, length & 255];
  return Buffer.concat([Buffer.from([tag, ...size]), content]);
}
