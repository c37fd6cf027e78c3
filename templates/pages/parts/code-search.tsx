import type { ComponentChildren } from 'preact';
import { Photo } from './photo.js';

export interface CodeSearchProps {
  readonly action: string;
  readonly label: string;
  readonly hint: ComponentChildren;
  readonly typed: string;
  readonly submitLabel: string;
  readonly camera: boolean;
}

/** A box for a code, which a photo of a label can fill; folded below the results, so that they are in sight. */
export const CodeSearch = ({ action, label, hint, typed, submitLabel, camera }: CodeSearchProps) => (
  <form method="get" action={action} role="search">
    <div class="field">
      <label for="f-q">{label}</label>
      <span class="hint" id="f-q-hint">
        {hint}
      </span>
      <input
        id="f-q"
        name="q"
        value={typed}
        autocomplete="off"
        autocapitalize="off"
        enterkeyhint="search"
        aria-describedby="f-q-hint"
      />
    </div>
    <button class="main-action">{submitLabel}</button>
    {typed === '' ? (
      <Photo photo="q" camera={camera} />
    ) : (
      <details class="more">
        <summary>Scan a label</summary>
        <Photo photo="q" camera={camera} />
      </details>
    )}
  </form>
);
