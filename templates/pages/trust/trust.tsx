import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { ScreenDrawing } from './screen-drawing.js';
import { type TrustPlatform, trustPlatforms } from './trust-platforms.js';

export interface TrustProps {
  /** SHA-256 of the authority; undefined where the server runs without the house's certificate. */
  readonly fingerprint: string | undefined;
  /** The platform whose steps are unfolded at first. */
  readonly platform: string;
}

/** How to make a device trust the house's certificate. */
export const TrustPage = ({ page, fingerprint, platform }: TrustProps & PageProps) => (
  <Layout page={page} title="Trust this house’s certificate">
    <h1>Trust this house’s certificate</h1>
    {fingerprint === undefined ? <NoCertificate /> : <Certificate fingerprint={fingerprint} platform={platform} />}
  </Layout>
);

const NoCertificate = () => (
  <>
    <p class="now">This server has no house certificate.</p>
    <p>
      Start it with <span class="code">npm start -- --lan --tls</span>: it makes one, and this page then shows how to
      make each device trust it. Without TLS the live camera works only on the machine itself, and others on the network
      could read what is sent.
    </p>
  </>
);

const Certificate = ({ fingerprint, platform }: { readonly fingerprint: string; readonly platform: string }) => (
  <>
    <p class="now">
      Once a device trusts it, the warning goes away, the live camera works, and the device keeps entries while it can’t
      reach the server.
    </p>
    <p>
      The certificate is valid only for names and addresses inside a house (like{' '}
      <span class="code">sugarhouse.local</span> and <span class="code">192.168.1.20</span>), for nothing on the
      internet. Its key stays on the machine that keeps the book.
    </p>
    <p>
      <a class="main-action" href="/trust/authority.crt" download>
        Download the certificate
      </a>
    </p>
    <p>
      Before you trust it, compare its SHA-256 fingerprint with the one in the terminal where the server was started:
    </p>
    <p class="code fingerprint">
      {(fingerprint.match(/.{1,24}/g) ?? []).map((part) => (
        <span>{part.replace(/:$/, '')}</span>
      ))}
    </p>
    <h2>What to do on each device</h2>
    <p class="soft">
      The steps are written from memory; the menus of some versions have other names. None of them was tried on a phone.
    </p>
    {trustPlatforms.map((each) => (
      <Platform platform={each} open={each.name === platform} />
    ))}
  </>
);

const Platform = ({ platform, open }: { readonly platform: TrustPlatform; readonly open: boolean }) => (
  <details class="more" open={open}>
    <summary>{platform.name}</summary>
    <ol class="trust-steps">
      {platform.steps.map((step) => (
        <li>
          <ScreenDrawing screen={step.screen} kind={platform.kind} />
          <p>{step.text}</p>
        </li>
      ))}
    </ol>
    <p class="soft">{platform.note}</p>
  </details>
);
