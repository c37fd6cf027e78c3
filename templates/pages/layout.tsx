import type { ComponentChildren } from 'preact';
import type { PageContext, PageProps } from './page-context.js';

export interface LayoutProps extends PageProps {
  readonly title: string;
  /** The navigation entry that the page belongs to, such as `boils`; blank for none of them. */
  readonly here?: string | undefined;
  /** As wide as the screen: for tables and drawings. */
  readonly wide?: boolean;
  /** It is unknown whether the last form was saved, so the page's script keeps its drafts. */
  readonly unsaved?: boolean;
  readonly children: ComponentChildren;
}

/** The document around every page: header, navigation, messages of the last write, footer. */
export const Layout = ({ page, title, here, wide, unsaved, children }: LayoutProps) => (
  <html lang="en">
    <head>
      <meta charset="utf-8" />
      <meta name="viewport" content="width=device-width, initial-scale=1" />
      <meta name="color-scheme" content="light dark" />
      <title>{`${title} · ${page.house.name || 'Boilbook'}${page.practice ? ' · PRACTICE' : ''}`}</title>
      {['400', '700'].map((weight) => (
        <link rel="preload" href={typeface(weight)} as="font" type="font/woff2" crossorigin="anonymous" />
      ))}
      <link rel="stylesheet" href="/assets/book.css" />
      <link rel="icon" href="/assets/lot-diagram.svg" type="image/svg+xml" />
      <script src="/assets/book.js" defer />
    </head>
    <body
      class={wide ? 'wide' : undefined}
      data-book={page.origin?.book}
      data-house={page.origin?.house}
      data-person={page.origin?.person}
      data-where={page.origin?.where}
      data-unsaved={unsaved ? '' : undefined}
    >
      <a class="skip" href="#page">
        Skip to main content
      </a>
      {page.practice && (
        <aside class="practice" aria-label="Practice book">
          PRACTICE <span>nothing here is real</span>
        </aside>
      )}
      {page.isOtherHouse && <OtherHouseNotice page={page} />}
      <p class="away" role="status" id="away" />
      <header class="head">
        <div class="house">
          <a href="/">{page.house.name || 'Boilbook'}</a>{' '}
          {page.principal && (
            <a class="who" href="/account">
              {page.principal.initials === 'Guest' ? 'Guest' : `${page.principal.initials}, ${page.principal.role}`}
            </a>
          )}
        </div>
        {page.principal && <MainNavigation here={here} />}
        <div class="line" aria-hidden="true" />
      </header>
      <main id="page">
        <Messages page={page} />
        {children}
      </main>
      <footer class="foot">
        {page.principal && <MoreNavigation page={page} />}
        <p>
          Boilbook keeps records. It doesn’t make a food safe or legal: follow your authority and your own inspection.
        </p>
      </footer>
    </body>
  </html>
);

const typeface = (weight: string): string => `/assets/fonts/atkinson-hyperlegible-next-latin-${weight}-normal.woff2`;

const OtherHouseNotice = ({ page: { house } }: PageProps) => (
  <p class="elsewhere">
    You are reading the records of <b>{house.name}</b>
    {house.prefix && (
      <>
        , whose lots are <b class="code">{house.prefix}</b>
      </>
    )}
    . <a href="/houses">Back to your own records</a>
  </p>
);

const mainPages = [
  ['today', 'Today', '/'],
  ['boils', 'Boils', '/boils'],
  ['packs', 'Packs', '/packs'],
  ['find', 'Find', '/find'],
  ['season', 'Season', '/season'],
] as const;

const MainNavigation = ({ here }: { readonly here: string | undefined }) => (
  <nav aria-label="Main pages">
    <ul class="places">
      {mainPages.map(([name, label, href]) => (
        <li>
          <a href={href} aria-current={here === name ? 'page' : undefined}>
            {label}
          </a>
        </li>
      ))}
    </ul>
  </nav>
);

/** The messages of the last write, and the button that undoes it. */
const Messages = ({ page }: PageProps) =>
  page.messages.length === 0 ? (
    <Undo page={page} text="Saved." />
  ) : (
    <div class="noted" role="status">
      {page.messages.map((each) => (
        <p>{each}</p>
      ))}
      <Undo page={page} text={page.messages.some((each) => each.startsWith('Saved')) ? undefined : 'Saved.'} />
    </div>
  );

const Undo = ({ page: { undo, once, principal }, text }: PageProps & { readonly text: string | undefined }) =>
  undo !== undefined && principal ? (
    <form method="post" action={`/undo/${undo}`} class="undo" data-undo="">
      <input type="hidden" name="_once" value={`${once}-undo`} />
      {text && <p role="status">{text}</p>}
      <button class="quiet">Undo</button>
    </form>
  ) : null;

const moreLinks = (page: PageContext): readonly (readonly [label: string, href: string])[] => [
  ['Sap', '/sap'],
  ['Sent out', '/dispatches'],
  ['Calculators', '/calculators'],
  ['Checks and cleaning', '/supporting-records'],
  ['Cautions', '/cautions'],
  ['Places and rules', '/places'],
  ['Files', '/files'],
  ['Record log', '/history'],
  ['The sugarhouse', '/house'],
  ...(page.may('owner') ? ([['People', '/people']] as const) : []),
  ['Paper sheets', '/paper-sheets'],
  ...(page.choosesHouse ? ([['Sugarhouses', '/houses']] as const) : []),
];

const MoreNavigation = ({ page }: PageProps) => (
  <nav aria-label="More pages">
    <ul>
      {moreLinks(page).map(([label, href]) => (
        <li>
          <a href={href}>{label}</a>
        </li>
      ))}
    </ul>
  </nav>
);
