import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { Drawing } from '../parts/drawing.js';
import { FieldGroup, type FormGroup } from '../parts/field-group.js';
import { Summary, type ProblemView } from '../parts/summary.js';

export interface NewStockPageProps {
  readonly title: string;
  readonly here: string;
  readonly problem: ProblemView | undefined;
  readonly groups: readonly FormGroup[];
  readonly drawn: { readonly sheet?: string; readonly label?: string; readonly sentences: readonly string[] };
}

/** A label sheet of the house's own, by its measurements, with a drawing of it. */
export const NewStockPage = ({ title, here, problem, groups, drawn, page }: NewStockPageProps & PageProps) => (
  <Layout page={page} title={title} here={here} wide>
    <p class="crumb">
      <a href="/stocks">← Label sheets</a>
    </p>
    <h1>Add a label sheet</h1>
    <p class="now">
      Measure from the top left corner of the page. A number without a unit is in millimetres; write inches as 2.625 in.
    </p>
    <Summary problem={problem} />
    <div class="beside">
      <form method="post" action="/stocks/new" novalidate data-drawn="sheet-seen" data-draft="stock">
        <input type="hidden" name="_once" value={page.once} />
        {groups.map((group) => (
          <FieldGroup group={group} noBlank />
        ))}
        <button class="quiet" formmethod="get" formaction="/stocks/new#sheet-seen">
          Preview
        </button>{' '}
        {page.may('maker') && <button class="main-action">Save this label sheet</button>}
      </form>
      <section id="sheet-seen" aria-label="The sheet as typed so far">
        {drawn.sentences.map((sentence) => (
          <p class={drawn.sheet ? 'why' : 'soft'}>{sentence}</p>
        ))}
        {drawn.sheet && (
          <figure>
            <figcaption class="soft small">The page, with the number of each place</figcaption>
            <div class="label-shown sheet">
              <Drawing svg={drawn.sheet} />
            </div>
          </figure>
        )}
        {drawn.label && (
          <figure>
            <figcaption class="soft small">One label, for a half pint</figcaption>
            <div class="label-shown">
              <Drawing svg={drawn.label} />
            </div>
          </figure>
        )}
      </section>
    </div>
    <script src="/assets/stock.js" defer />
  </Layout>
);
