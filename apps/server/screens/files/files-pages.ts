import { columnName } from '#libs/actions/record/fields.js';
import type { Imported } from '#libs/actions/import/import-rows.js';
import { fileKinds } from '#libs/actions/kinds/registry.js';
import type { FileRow } from '#pages/files/preview.js';
import { faultSentence, limitSentences } from '#libs/actions/record/problem.js';

/** The page for imports and exports, with the columns of each kind of file. */
export const filesPage = (fault?: string) => ({
  title: 'Files',
  here: '',
  fault,
  kinds: fileKinds.map((kind) => ({
    plural: kind.plural,
    columns: Object.entries(kind.fields).map(([name, field]) => ({
      name: columnName(name),
      needed: field.needed,
      example: field.example,
    })),
  })),
});

/**
 * What a file would change, before it is imported. `ticket` names the waiting file; without it nothing can be
 * imported.
 */
export const previewPage = (view: Imported, name: string, firstRows: readonly FileRow[], ticket?: string) => ({
  title: `${name}: ${view.kind}`,
  here: '',
  name,
  kind: view.kind,
  ticket,
  rows: view.rows,
  written: view.written,
  corrected: view.corrected,
  same: view.same,
  ids: view.ids.slice(0, 200),
  firstRows,
  notes: view.notes,
  faultCount: view.faultCount + view.refusalCount,
  faults: limitSentences(
    [...view.faults.map(faultSentence), ...view.refusals.map((each) => `Line ${each.line}: ${each.sentence}`)],
    view.faultCount + view.refusalCount,
  ),
});
