import type { SupportingRecords } from '#libs/reports/season/supporting-records.js';

export function sideRecords(): SupportingRecords {
  return {
    failedInstruments: [],
    instruments: [
      { id: 'T1', kind: 'thermometer', description: 'probe, kettle and jar' },
      { id: 'T2', kind: 'thermometer', description: 'dial, sap tank' },
      { id: 'H1', kind: 'hydrometer', description: 'syrup, 60 °F' },
    ],
    instrumentChecks: [
      {
        instrument: 'T1',
        checkedAt: '2026-03-15T10:00:00-04:00',
        against: 'ice point',
        expectedTyped: '32 F',
        foundTyped: '32.4 F',
        pass: true,
        by: 'OE',
        suspectLots: [],
      },
      {
        instrument: 'T2',
        checkedAt: '2026-03-15T10:10:00-04:00',
        against: 'ice point',
        expectedTyped: '32 F',
        foundTyped: '35.1 F',
        pass: false,
        by: 'OE',
        suspectLots: ['26076A-1'],
      },
    ],
    cleanings: [
      {
        at: '2026-03-16T09:00:00-04:00',
        what: 'pans and tank',
        withWhat: 'unscented bleach',
        strength: '1 to 20',
        rinsed: 'clean water, twice',
        by: 'JP',
      },
    ],
    filterWashings: [
      { at: '2026-03-20T09:00:00-04:00', filter: 'felt cone', how: 'hot water only, not wrung', by: 'JP' },
    ],
    equipment: [
      {
        id: 'PAN1',
        name: 'finishing pan',
        material: 'stainless steel, welded',
        year: '2008',
        solder: 'none',
        note: null,
      },
    ],
    supplies: [
      {
        id: 'J1',
        item: 'glass jar 8 fl oz',
        supplier: 'Notch Glass',
        supplierLot: 'NG-220',
        receivedAt: '2026-02-20T12:00:00-05:00',
        lots: ['26076A-1', '26077A-1', '26078A-1'],
      },
    ],
    defoamers: [{ name: 'butter', allergens: 'milk' }],
    waterTests: [
      {
        at: '2026-02-02T00:00:00-05:00',
        source: 'drilled well',
        laboratory: 'county laboratory',
        outcome: 'no coliforms found',
      },
    ],
    leadTests: [],
    practiceRecalls: [
      {
        at: '2025-11-09T10:00:00-05:00',
        lot: '25090A-1',
        minutes: 95,
        jarsMade: 60,
        jarsFound: 60,
        counted: 20,
        closed: true,
        words: 'All found in both directions.',
        by: 'WE',
      },
    ],
    complaints: [
      {
        at: '2026-05-02T12:00:00-04:00',
        code: '26078A-2',
        words: 'A can leaked at the seam.',
        seen: 'seal gone, mould no',
        done: 'Lot recalled the same day.',
        by: 'WE',
      },
    ],
    others: [],
    trainings: [{ at: '2026-02-25T18:00:00-05:00', initials: 'JP', subject: 'hands, hair, sick days' }],
    licences: [{ what: 'producer registration', number: '0000 (invented)', until: '2026-12-31' }],
  };
}
