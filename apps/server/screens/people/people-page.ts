import { type Problem, sentencesOf } from '#libs/actions/record/problem.js';
import { loadSugarhouseContext } from '#libs/actions/record/write-context.js';
import { roleText } from '#libs/actions/accounts/role-text.js';
import { momentIn } from '#libs/actions/record/times.js';
import { guestLinksOf, keysOf, sessionsOf } from '#libs/store/household/household-tokens.js';
import { home } from '#libs/store/household/houses.js';
import { peopleOf, roles } from '#libs/store/household/household.js';
import { problemStatus } from '../../http/problem-details.js';
import { type HtmlPage, htmlPage } from '../../http/responses.js';
import type { Principal } from '../../http/principal.js';
import { dayText, momentText } from '../../text/times.js';
import { textOf } from '../set-up/text-of.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import type { PeopleForm } from '#pages/people/people-form.js';
import { type NewSecret, PeoplePage } from '#pages/people/people.js';

export interface PeoplePageState {
  /** The form that the problem belongs to. */
  readonly of?: PeopleForm;
  readonly problem?: Problem;
  readonly typed?: Readonly<Record<string, unknown>>;
  /** A new key or link: shown on this page only, since only its hash is stored. */
  readonly secret?: NewSecret;
}

/** People, guest links, keys and sessions. */
export async function peoplePage(principal: Principal, state: PeoplePageState = {}): Promise<HtmlPage> {
  const { read } = principal.book;
  const { parseOptions: options } = await loadSugarhouseContext(read, principal.writeContext);
  const now = principal.writeContext.now.toISOString();
  const local = (at: string): string => momentIn(options.zone, new Date(at));
  const day = (at: string): string => dayText(local(at), local(now));
  const minute = (at: string): string => momentText(local(at), local(now));
  const [people, keys, links, sessions] = [
    await peopleOf(sugarhouseReader(read, principal.writeContext.sugarhouse)),
    await keysOf(sugarhouseReader(read, principal.writeContext.sugarhouse)),
    await guestLinksOf(sugarhouseReader(read, principal.writeContext.sugarhouse)),
    await sessionsOf(sugarhouseReader(read, principal.writeContext.sugarhouse), now),
  ];
  const view = {
    title: 'People, keys and links',
    here: '',
    roles: rolesFor(principal.writeContext.sugarhouse).map((role) => ({ role, text: roleText(role) })),
    people: people.map(({ initials, name, role, endedAt, password }) => ({
      initials,
      name,
      role,
      ended: endedAt && day(endedAt),
      signsIn: password !== undefined,
    })),
    keys: keys.map(({ name, role, madeAt, endedAt }) => ({
      name,
      role,
      made: day(madeAt),
      ended: endedAt && day(endedAt),
    })),
    links: links.map(({ tokenHash, name, madeBy, endsAt, endedAt, used }) => ({
      link: tokenHash,
      name,
      madeBy,
      used,
      until: day(endsAt),
      endedText: endedAt !== undefined ? 'ended' : endsAt <= now ? 'expired' : '',
    })),
    sessions: sessions.map(({ tokenHash, initials, role, device, seenAt }) => ({
      session: tokenHash,
      initials,
      role,
      device,
      seen: minute(seenAt),
      own: tokenHash === principal.session,
    })),
    of: state.of,
    sentences: state.problem ? sentencesOf(state.problem) : [],
    secret: state.secret,
    typed: typedFields(state.typed ?? {}),
  };
  return htmlPage(PeoplePage, view, state.problem ? problemStatus(state.problem) : 200);
}

/** What was typed, so that the form can be shown again. */
const typedFields = (typed: Readonly<Record<string, unknown>>) => ({
  initials: textOf(typed['initials']),
  name: textOf(typed['name']),
  role: textOf(typed['role']),
  days: textOf(typed['days']),
});

/** Only the first sugarhouse has packers. */
const rolesFor = (sugarhouse: string) => roles.filter((role) => role !== 'packer' || sugarhouse === home);
