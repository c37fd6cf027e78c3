const keys = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '.', '0', '⌫'] as const;
const ariaLabels: Readonly<Record<string, string>> = { '.': 'Point', '⌫': 'Delete the last digit' };

/**
 * Digits for wet gloves, part of the page so that nothing moves when its script loads; without script they are hidden.
 */
export const Keypad = () => (
  <div class="pad" role="group" aria-label="Digits">
    {keys.map((key) => (
      <button type="button" aria-label={ariaLabels[key]}>
        {key}
      </button>
    ))}
  </div>
);
