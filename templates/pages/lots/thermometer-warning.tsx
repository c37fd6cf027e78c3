import type { PageProps } from '../page-context.js';
import type { ThermometerWarning } from './fill-form-view.js';

interface CheckFirstProps extends PageProps {
  readonly code: string;
  readonly seen: number;
  readonly warning: ThermometerWarning;
}

/** The check of the thermometer as the first step of a pack, or what to do about a reading near the limit. */
export const ThermometerWarningBox = ({ code, seen, warning: warning, page }: CheckFirstProps) => {
  const { title, text, links, canPostpone, pourBack } = warning;
  return (
    <div class="to-check" role="status">
      <p>
        <b>{title}</b> {text}
      </p>
      <div class="log-buttons">
        {pourBack !== undefined && (
          <form method="post" action={`/packs/${code}/poured-back`}>
            <input type="hidden" name="_once" value={`${page.once}-near`} />
            <input type="hidden" name="_seen" value={seen} />
            <input type="hidden" name="reading" value={pourBack} />
            <button class="main-action">Poured back, filled again</button>
          </form>
        )}
        {links.map((link, n) => (
          <a class={n === 0 && canPostpone && pourBack === undefined ? 'main-action' : 'quiet'} href={link.href}>
            {link.text}
          </a>
        ))}
        {canPostpone && (
          <form method="post" action={`/packs/${code}/check-later`} data-keep="">
            <input type="hidden" name="_once" value={`${page.once}-later`} />
            <button class="quiet">Later</button>
          </form>
        )}
      </div>
    </div>
  );
};
