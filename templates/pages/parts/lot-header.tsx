export interface Stamp {
  readonly word: string;
  readonly kind: string;
  readonly by: string;
  readonly why: string;
}

export interface LotHeaderProps {
  readonly back: { readonly href: string; readonly text: string };
  readonly code: string;
  readonly stamp: Stamp | undefined;
  /** When its rest or boil began, for the clock of the page's script. */
  readonly restedFrom?: string | undefined;
  readonly began?: string | undefined;
  readonly sentence: string;
  /** What to do about a held lot; blank where it isn't held. */
  readonly remedy: string;
  readonly underway?: boolean;
}

/** A lot’s code, its stamp and a sentence about its state. */
export const LotHeader = ({ back, code, stamp, restedFrom, began, sentence, remedy, underway }: LotHeaderProps) => (
  <>
    <p class="crumb">
      <a href={back.href}>← {back.text}</a>
    </p>
    <div class="title">
      <h1 class="code">{code}</h1>
      {stamp && <span class={`stamp ${stamp.kind}`}>{stamp.word}</span>}
    </div>
    {stamp && (stamp.why !== '' || stamp.by !== '') && (
      <div class="why">
        {stamp.why && <p>{stamp.why}</p>}
        <p class="soft">{stamp.by}</p>
      </div>
    )}
    <p class="now" data-rest={restedFrom} data-since={!restedFrom && began ? began : undefined}>
      {sentence}
    </p>
    {remedy && !underway && <p>{remedy}</p>}
  </>
);
