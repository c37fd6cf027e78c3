import { columnOf } from '#libs/actions/record/fields.js';
import type { Imported } from '#libs/actions/import/import-rows.js';
import { importKinds } from '#libs/actions/kinds/registry.js';
import { faultSentence, listed } from '#libs/actions/record/problem.js';

export const filesPage = (fault?: string) => ({
  title: 'Files',
  here: '',
  fault,
  kinds: importKinds.map((kind) => ({
    plural: kind.plural,
    columns: Object.entries(kind.fields).map(([name, field]) => ({
      name: columnOf(name),
      needed: field.needed,
      example: field.example,
    })),
  })),
});

export const previewPage = (told: Imported, name: string, ticket?: string) => ({
  title: `${name}: ${told.kind}`,
  here: '',
  name,
  kind: told.kind,
  ticket,
  rows: told.rows,
  written: told.written,
  corrected: told.corrected,
  same: told.same,
  ids: told.ids.slice(0, 200),
  notes: told.notes,
  faultCount: told.faultCount + told.refusalCount,
  faults: listed(
    [...told.faults.map(faultSentence), ...told.refusals.map((each) => `Line ${each.line}: ${each.sentence}`)],
    told.faultCount + told.refusalCount,
  ),
});
