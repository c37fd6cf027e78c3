import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { BlankTable } from './blank-table.js';
import { ToTick } from './to-tick.js';
import { SheetHead, type SheetHeadProps } from './head.js';

export interface PackSheetPageProps {
  readonly title: string;
  readonly here: string;
  readonly symbol: SheetHeadProps['symbol'];
  readonly limit: { readonly F: number; readonly C: number };
  /** What each thermometer of the house must show, by its checks. */
  readonly thermometers: readonly string[];
}

/** A sheet to print and fill in at a pack, with the limit for jars. */
export const PackSheetPage = ({ title, here, symbol, limit, thermometers, page }: PackSheetPageProps & PageProps) => (
  <Layout page={page} title={title} here={here} wide>
    <p class="crumb">
      <a href="/paper-sheets">← Paper sheets</a>
    </p>
    <SheetHead page={page} title={title} symbol={symbol} />
    <p>Syrup from (lot, how much) ______________________________ &ensp; Container ____________________</p>
    <ToTick
      legend="Tick what was done"
      items={['lids new', 'lids boiled', 'jars hot', 'filled to the shoulder', 'rims wiped', 'laid down or turned']}
    />
    <p>Prepared how ______________________ &ensp; Syrup in the kettle ________ &ensp; Thermometer ______</p>
    <p>Thermometer checked before the first jar, in ice or boiling water: read ________ &ensp; should read ________</p>
    <p>Density read ________ at sample temperature ________ with ________________</p>
    {thermometers.length > 0 && <p>What it must show in the jar, by its checks: {thermometers.join('; ')}.</p>}
    <BlankTable
      caption={`In the jar when capped: ${limit.F} °F or ${limit.C} °C and more`}
      columns={['Time', 'Jars', 'Temperature, unit', 'By', 'Time', 'Jars', 'Temperature, unit', 'By']}
    />
    <p>
      Jars filled ______ &ensp; Glass broke at jar ______ &ensp; Colour ________ &ensp; Clear? ________ &ensp; Off
      flavour ________
    </p>
    <p>
      Seals, when cold: failed ______ &ensp; counted on ________ at ______ by ____ &ensp; What became of them
      ____________
    </p>
    <p class="small">
      A reading under the limit: pour back the jars since the last good one while the syrup is hot, fill them again,
      read them and write both, “poured back” beside the cold one. Where that can’t be done, keep those jars apart and
      write it down. A blank is not read: write nothing you did not read.
    </p>
  </Layout>
);
