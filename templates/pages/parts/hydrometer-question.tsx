import type { PageProps } from '../page-context.js';

/** The answers, each saved by one tap. */
export const hydrometerTaps = [
  { value: '60-F', text: '60 °F' },
  { value: '68-F', text: '68 °F (20 °C)' },
  { value: 'not-known', text: 'Not printed, or don’t know' },
] as const;

/** Asked once, after the first reading with a hydrometer. */
export const HydrometerQuestion = ({ page }: PageProps) => (
  <form method="post" action="/house/hydrometer" class="why">
    <input type="hidden" name="_once" value={`${page.once}-hydrometer`} />
    <p>
      <b>What temperature is printed on your hydrometer?</b> Look at the paper scale inside it. Until this is answered,
      a reading near the limit may hold its lot: a hydrometer made for 68 °F shows the same syrup about 0.3 °Bx thicker.
    </p>
    <p class="buttons">
      {hydrometerTaps.map(({ value, text }) => (
        <button class="quiet" name="hydrometerMadeFor" value={value}>
          {text}
        </button>
      ))}
    </p>
  </form>
);
