import { type DeclaredRule, practice } from './declared-rule.js';

/** The rules about what a boil began with, and about lead: part of `holdRules`, in its order. */
export const boilAndLeadRules = [
  {
    name: 'equipment-question',
    title: 'Equipment rinsing, water test or lead',
    kind: 'stop',
    clears: 'reason',
    missing: 'record',
    says: 'No boil began in unrinsed equipment, after a failed water test, or with a part over the lead limit.',
    source: 'flush with clean water: University of Maine Bulletin 7038; limits of lead: the rules of the place',
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'sap-question',
    title: 'Condition of the sap',
    kind: 'stop',
    clears: 'reason',
    says: 'No boil used sap that was recorded as cloudy, slimy or with an off smell, or a maker released the boil with the reason.',
    wayOut: 'Release the boil with the reason if that sap was thrown out or the syrup is sound; otherwise destroy it.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'lead-over-limit',
    title: 'Lead limit',
    kind: 'stop',
    clears: 'authority',
    says: 'If the place’s lead limit is known, every test of the lot is at or below it, or an owner recorded why a test no longer counts.',
    source: 'the rules of the place',
    mark: 'read',
    readOn: '2026',
  },
] as const satisfies readonly DeclaredRule[];
