/** HELD, RELEASED or RECALLED beside a lot's code; nothing for a lot that is open. */
export const StatusStamp = ({ status }: { readonly status: string }) =>
  status === 'open' ? null : <span class={`stamp small ${status}`}>{status.toUpperCase()}</span>;
