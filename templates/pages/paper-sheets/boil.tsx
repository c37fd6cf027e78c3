import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { BlankTable } from './blank-table.js';
import { ToTick } from './to-tick.js';
import { SheetHead, type SheetHeadProps } from './head.js';

export interface BoilSheetPageProps {
  readonly title: string;
  readonly here: string;
  readonly symbol: SheetHeadProps['symbol'];
}

/** A sheet to print and fill in at a boil. */
export const BoilSheetPage = ({ title, here, symbol, page }: BoilSheetPageProps & PageProps) => (
  <Layout page={page} title={title} here={here} wide>
    <p class="crumb">
      <a href="/paper-sheets">← Paper sheets</a>
    </p>
    <SheetHead page={page} title={title} symbol={symbol} />
    <p>Began ________ &ensp; Ended ________ &ensp; Water boils at ________ &ensp; Finishes at ________</p>
    <p>Sap in (number, how much) ______________________________________ &ensp; Sugar ________</p>
    <p>Defoamer ________________ &ensp; Its allergens ________________ &ensp; Left in pans from ____________</p>
    <ToTick legend="Tick what was done" items={['sap strained', 'packed in snow', 'skimmed']} />
    <BlankTable
      columns={[
        'Time',
        'Pan',
        'Temperature, unit',
        'Off the spoon',
        'Hydrometer, unit',
        'Sample at',
        'Drawn off',
        'Note',
        'By',
      ]}
    />
    <p>
      Filtered at ________ through ________________ &ensp; Rests from ________ until ________ &ensp; Syrup made ________
    </p>
    <p class="small">
      Never leave a pan near draw-off. Filter hot, 185 °F or more. A blank is not read: write nothing you did not read.
    </p>
  </Layout>
);
