/** Counts requests to public pages by address, in memory only. */
export interface RateLimit {
  /** Takes that many tokens; returns the seconds to wait if there are not enough. */
  take(address: string, tokens: number, now: Date): number;
}

const mostAddresses = 20_000;

/** A bucket of `aMinute` tokens for each address, refilled over a minute. */
export function limitRequests(aMinute: number): RateLimit {
  const buckets = new Map<string, { tokens: number; at: number }>();
  return {
    take(address, tokens, now) {
      const from = network(address);
      const at = now.getTime();
      const saved = buckets.get(from);
      const passed = saved ? Math.max(0, at - saved.at) : 0;
      const there = saved ? Math.min(aMinute, saved.tokens + (passed * aMinute) / 60_000) : aMinute;
      const enough = there >= tokens;
      // Inserted last, so that the map's first address is the one unseen for longest.
      buckets.delete(from);
      buckets.set(from, { tokens: enough ? there - tokens : there, at });
      if (buckets.size > mostAddresses) buckets.delete(buckets.keys().next().value ?? '');
      return enough ? 0 : Math.ceil(((tokens - there) * 60) / aMinute);
    },
  };
}

/** An IPv6 household has its own /64: all of its addresses count as one. */
export function network(address: string): string {
  if (!address.includes(':')) return address;
  const mapped = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(address);
  if (mapped) return mapped[1] ?? address;
  const [left = '', right] = address.split('%')[0]?.split('::') ?? [];
  const head = left.split(':').filter(Boolean);
  const tail = right === undefined ? [] : right.split(':').filter(Boolean);
  const zeros = Array.from({ length: Math.max(0, 8 - head.length - tail.length) }, () => '0');
  return [...head, ...zeros, ...tail].slice(0, 4).join(':');
}
