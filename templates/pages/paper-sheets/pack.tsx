import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { SheetHead, type SheetHeadProps } from './head.js';

export interface PackSheetPageProps {
  readonly title: string;
  readonly here: string;
  readonly symbol: SheetHeadProps['symbol'];
  readonly limit: { readonly F: number; readonly C: number };
}

export const PackSheetPage = ({ title, here, symbol, limit, page }: PackSheetPageProps & PageProps) => (
  <Layout page={page} title={title} here={here} wide>
    <p class="crumb">
      <a href="/paper-sheets">← Paper sheets</a>
    </p>
    <SheetHead page={page} title={title} symbol={symbol} />
    <p>Syrup from (lot, how much) ______________________________ &ensp; Container ____________________</p>
    <p>Prepared how ______________________ &ensp; Syrup in the kettle ________ &ensp; Thermometer ______</p>
    <p>Density read ________ at sample temperature ________ with ________________</p>
    <div class="scroll" tabindex={0} role="region" aria-label="Readings">
      <table class="blank">
        <caption>
          In the jar when capped: {limit.F} °F or {limit.C} °C and more
        </caption>
        <thead>
          <tr>
            <th scope="col">Time</th>
            <th scope="col">Jars</th>
            <th scope="col">Temperature, unit</th>
            <th scope="col">By</th>
            <th scope="col">Time</th>
            <th scope="col">Jars</th>
            <th scope="col">Temperature, unit</th>
            <th scope="col">By</th>
          </tr>
        </thead>
        <tbody>
          {Array.from({ length: 14 }, () => (
            <tr>
              <td />
              <td />
              <td />
              <td />
              <td />
              <td />
              <td />
              <td />
            </tr>
          ))}
        </tbody>
      </table>
    </div>
    <p>
      Jars filled ________ &ensp; Broken or short ________ &ensp; Seals failed, when cold ________ &ensp; What became of
      them ________________
    </p>
    <p>Colour ____________ &ensp; Clear? ____________ &ensp; Off flavour ____________</p>
    <p class="small">
      A reading under the limit: keep those jars apart and write it down. A blank is not read: write nothing you did not
      read.
    </p>
  </Layout>
);
