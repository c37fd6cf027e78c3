import type { Fields } from '#libs/actions/record/fields.js';
import { valueItems } from '#libs/actions/record/value-text.js';
import type { RecordKind } from '#libs/records/record-types.js';
import type { StoredRecord } from '#libs/store/queries/lots.js';
import type { RecordedValue } from '#pages/form-page.js';
import { mayCorrect } from '../http/may-write.js';
import type { Principal } from '../http/principal.js';

/** The values of a record that a form doesn't ask again, as recorded, with the page that corrects each. */
export const recordedValues = (
  principal: Principal,
  saved: StoredRecord,
  {
    kind,
    id,
    fields,
    names,
  }: { readonly kind: RecordKind; readonly id: string; readonly fields: Fields; readonly names: readonly string[] },
): RecordedValue[] =>
  names
    .filter((name) => saved.typed[name] !== undefined)
    .map((name) => ({
      label: fields[name]?.label ?? name,
      value: valueItems(fields[name], saved, name).join(' · '),
      correctHref: mayCorrect(principal, kind)
        ? `/records/${kind}/${encodeURIComponent(id)}/correct?field=${name}`
        : undefined,
    }));
