/** Counts requests to public pages by address, in memory only. */
export interface RateLimit {
  /** Takes that many tokens; returns the seconds to wait if there are not enough. */
  take(address: string, tokens: number, now: Date): number;
}

const maxAddresses = 20_000;

/** A bucket of `perMinute` tokens for each address, refilled over a minute. */
export function limitRequests(perMinute: number): RateLimit {
  const buckets = new Map<string, { tokens: number; at: number }>();
  return {
    take(address, tokens, now) {
      const from = networkOf(address);
      const at = now.getTime();
      const saved = buckets.get(from);
      const elapsedMs = saved ? Math.max(0, at - saved.at) : 0;
      const available = saved ? Math.min(perMinute, saved.tokens + (elapsedMs * perMinute) / 60_000) : perMinute;
      const enough = available >= tokens;
      // Inserted last, so that the map's first address is the one unseen for longest.
      buckets.delete(from);
      buckets.set(from, { tokens: enough ? available - tokens : available, at });
      if (buckets.size > maxAddresses) buckets.delete(buckets.keys().next().value ?? '');
      return enough ? 0 : Math.ceil(((tokens - available) * 60) / perMinute);
    },
  };
}

/** An IPv6 household has its own /64: all of its addresses count as one. */
export function networkOf(address: string): string {
  if (!address.includes(':')) return address;
  const mapped = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(address);
  if (mapped) return mapped[1] ?? address;
  const [left = '', right] = address.split('%')[0]?.split('::') ?? [];
  const head = left.split(':').filter(Boolean);
  const tail = right === undefined ? [] : right.split(':').filter(Boolean);
  const zeros = Array.from({ length: Math.max(0, 8 - head.length - tail.length) }, () => '0');
  return [...head, ...zeros, ...tail].slice(0, 4).join(':');
}
