export interface RecallFactsProps {
  readonly why: string;
  readonly hazard: {
    readonly hazard: string | null;
    readonly whoMayBeHurt: string | null;
    readonly whatToDo: string | null;
  };
}

/** What a recall was declared for, and what it tells buyers. */
export const RecallFacts = ({ why, hazard }: RecallFactsProps) => (
  <dl class="facts">
    <dt>Reason</dt>
    <dd>{why}</dd>
    <dt>Hazard</dt>
    <dd>{hazard.hazard ?? 'not recorded'}</dd>
    <dt>Who may be hurt</dt>
    <dd>{hazard.whoMayBeHurt ?? 'not recorded'}</dd>
    <dt>What to do with the jars</dt>
    <dd>{hazard.whatToDo ?? 'not recorded'}</dd>
  </dl>
);
