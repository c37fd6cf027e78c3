import type { PageProps } from '../page-context.js';

/** A warning where the page was requested from another machine without TLS. */
export const NoTlsWarning = ({ page }: PageProps) =>
  page.isPrivateConnection ? null : (
    <p class="caution">
      <b>Others on this network could read what you send here.</b> The page comes without TLS: use it only on a network
      of your own, or start it with <span class="code">npm start -- --lan --tls</span>. <a href="/trust">How</a>
    </p>
  );
