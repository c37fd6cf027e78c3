import type { PageProps } from '../page-context.js';
import type { ToCheck } from './fill-pad.js';

interface CheckFirstProps extends PageProps {
  readonly code: string;
  readonly seen: number;
  readonly toCheck: ToCheck;
}

/** The check of the thermometer as the first step of a pack, or what to do about a reading near the limit. */
export const CheckFirst = ({ code, seen, toCheck, page }: CheckFirstProps) => {
  const { title, text, links, mayBePutOff, pourBack } = toCheck;
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
          <a class={n === 0 && mayBePutOff && pourBack === undefined ? 'main-action' : 'quiet'} href={link.href}>
            {link.text}
          </a>
        ))}
        {mayBePutOff && (
          <form method="post" action={`/packs/${code}/check-later`} data-keep="">
            <input type="hidden" name="_once" value={`${page.once}-later`} />
            <button class="quiet">Later</button>
          </form>
        )}
      </div>
    </div>
  );
};
