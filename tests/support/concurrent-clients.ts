/** What a client sends: the same request with the same key, until a server acknowledges it. */
export interface Errand {
  readonly key: string;
  readonly noun: 'gatherings' | 'boils' | 'packs';
  readonly body: Readonly<Record<string, unknown>>;
}

/** The acknowledged writes: by key, the id that was returned. */
export interface Confirmed {
  readonly ledger: Map<string, { readonly noun: Errand['noun']; readonly id: string }>;
  /** Answers of a running server that were neither a success nor a broken connection. */
  readonly faults: string[];
  /** The number of requests repeated because a connection broke. */
  readonly again: { count: number };
}

export interface ClientLoad {
  /** Addresses of the servers; a killed one is removed. */
  readonly servers: string[];
  readonly apiKey: string;
  readonly clients: number;
  readonly errands: number;
  /** Called after each write, with the number acknowledged. */
  onConfirmed(saved: number): void;
}

/** Clients that each send their writes one after the other, to any server, until all are acknowledged. */
export async function sendFromClients(load: ClientLoad): Promise<Confirmed> {
  const saved: Confirmed = { ledger: new Map(), faults: [], again: { count: 0 } };
  const client = async (c: number): Promise<void> => {
    for (let n = 0; n < load.errands; n++) {
      for (const errand of errandsOf(c, n, saved)) {
        await sendUntilConfirmed(load, saved, errand, c + n);
        load.onConfirmed(saved.ledger.size);
      }
    }
  };
  await Promise.all(Array.from({ length: load.clients }, (_, c) => client(c)));
  return saved;
}

/** Every fourth is a boil, whose code the book gives, with a pack of five jars from it; the others are gatherings. */
function* errandsOf(c: number, n: number, saved: Confirmed): Generator<Errand> {
  const name = `C${c}.${n}`;
  if (n % 4 !== 0) {
    const body = {
      id: name,
      gatheredAt: '2026-03-17T16:30',
      source: 'North slope, buckets',
      volume: '12 gal',
      by: 'OE',
    };
    yield { key: `${name}-g`, noun: 'gatherings', body };
    return;
  }
  yield { key: `${name}-b`, noun: 'boils', body: { beganAt: '2026-03-18T07:30', syrupVolume: '1 gal', by: 'WE' } };
  const boil = saved.ledger.get(`${name}-b`)?.id ?? '';
  yield {
    key: `${name}-p`,
    noun: 'packs',
    body: {
      fromLots: [`${boil}:1 qt`],
      packedAt: '2026-03-19T10:00',
      container: 'glass jar 8 fl oz',
      jars: '5',
      fillTemps: ['186 F'],
      by: 'OE',
    },
  };
}

async function sendUntilConfirmed(load: ClientLoad, saved: Confirmed, errand: Errand, first: number): Promise<void> {
  for (let attempt = 0; attempt < 400; attempt++) {
    const server = load.servers[(first + attempt) % load.servers.length] ?? '';
    try {
      const answer = await fetch(`${server}/api/${errand.noun}`, {
        method: 'POST',
        headers: {
          authorization: `Bearer ${load.apiKey}`,
          'content-type': 'application/json',
          'idempotency-key': errand.key,
        },
        body: JSON.stringify(errand.body),
      });
      const result = (await answer.json()) as { id?: string; detail?: string };
      if (answer.ok && result.id !== undefined) {
        saved.ledger.set(errand.key, { noun: errand.noun, id: result.id });
        return;
      }
      if (load.servers.includes(server)) saved.faults.push(`${errand.key}: ${answer.status} ${result.detail}`);
    } catch {
      // The server was killed meanwhile: the request may have been saved or not, so it is sent again unchanged.
      saved.again.count++;
    }
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  saved.faults.push(`${errand.key}: never kept`);
}
