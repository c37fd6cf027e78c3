import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { SheetHead, type SheetHeadProps } from './head.js';

export interface BoilSheetPageProps {
  readonly title: string;
  readonly here: string;
  readonly symbol: SheetHeadProps['symbol'];
}

export const BoilSheetPage = ({ title, here, symbol, page }: BoilSheetPageProps & PageProps) => (
  <Layout page={page} title={title} here={here} wide>
    <p class="crumb">
      <a href="/paper-sheets">← Paper sheets</a>
    </p>
    <SheetHead page={page} title={title} symbol={symbol} />
    <p>Began ________ &ensp; Ended ________ &ensp; Water boils at ________ &ensp; Finishes at ________</p>
    <p>Sap in (number, how much) ______________________________________ &ensp; Sugar ________</p>
    <p>Defoamer ________________ &ensp; Its allergens ________________ &ensp; Left in pans from ____________</p>
    <div class="scroll" tabindex={0} role="region" aria-label="Readings">
      <table class="blank">
        <thead>
          <tr>
            <th scope="col">Time</th>
            <th scope="col">Pan</th>
            <th scope="col">Temperature, unit</th>
            <th scope="col">Density, unit</th>
            <th scope="col">Drawn off</th>
            <th scope="col">Note</th>
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
            </tr>
          ))}
        </tbody>
      </table>
    </div>
    <p>
      Filtered at ________ through ________________ &ensp; Rests from ________ until ________ &ensp; Syrup made ________
    </p>
    <p class="small">
      Never leave a pan near draw-off. Filter hot, 185 °F or more. A blank is not read: write nothing you did not read.
    </p>
  </Layout>
);
