/** A label and its value: `['sent out', 12]`. */
export type Fact = readonly [label: string, value: string | number];

/** Figures, each beside its label. */
export const FactList = ({ facts }: { readonly facts: readonly Fact[] }) => (
  <dl class="facts">
    {facts.map(([label, value]) => (
      <>
        <dt>{label}</dt>
        <dd>
          <b>{value}</b>
        </dd>
      </>
    ))}
  </dl>
);
