import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/**
 * The roles, highest first. A packer is a maker of the first sugarhouse who may also read the books of the others, as
 * its owner may. A guest only reads.
 */
export const roles = ['owner', 'packer', 'maker', 'helper', 'guest'] as const;
export type Role = (typeof roles)[number];

export interface Person {
  readonly initials: string;
  readonly name: string;
  readonly role: Role;
  /** As the hashing library encodes it; undefined for a person without a password. */
  readonly password: string | undefined;
  readonly endedAt: string | undefined;
}

/** The person with these initials, case-sensitive; undefined where there is none. */
export async function findPerson({ sql, sugarhouse }: SugarhouseReader, initials: string): Promise<Person | undefined> {
  const row = await sql.row<PersonColumns>`SELECT * FROM household_person
    WHERE sugarhouse = ${sugarhouse} AND initials = ${initials}`;
  return row && personFrom(row);
}

/** The people of the sugarhouse, by their initials. */
export async function peopleOf({ sql, sugarhouse }: SugarhouseReader): Promise<Person[]> {
  const rows = await sql.rows<PersonColumns>`SELECT * FROM household_person
    WHERE sugarhouse = ${sugarhouse} ORDER BY initials`;
  return rows.map(personFrom);
}

/** Whether an owner exists; from then on the setup code is void. */
export async function isClaimed({ sql, sugarhouse }: SugarhouseReader): Promise<boolean> {
  const row = await sql.row`SELECT initials FROM household_person WHERE sugarhouse = ${sugarhouse}
    AND role = 'owner' AND password IS NOT NULL AND ended_at IS NULL`;
  return row !== undefined;
}

/** Saves a person, or changes the one with these initials. */
export async function savePerson(
  { sql, sugarhouse }: SugarhouseReader,
  person: Pick<Person, 'initials' | 'name' | 'role' | 'password'>,
): Promise<void> {
  await sql.run`INSERT INTO household_person (sugarhouse, initials, name, role, password, wrong_count)
    VALUES (${sugarhouse}, ${person.initials}, ${person.name}, ${person.role}, ${person.password ?? null}, 0)
    ON CONFLICT (sugarhouse, initials) DO UPDATE SET name = excluded.name, role = excluded.role,
      password = COALESCE(excluded.password, household_person.password), ended_at = NULL`;
}

/** Saves the hash of a person's new password. */
export async function savePassword(
  { sql, sugarhouse }: SugarhouseReader,
  initials: string,
  password: string,
): Promise<void> {
  await sql.run`UPDATE household_person SET password = ${password}, wrong_count = 0, wrong_since = NULL
    WHERE sugarhouse = ${sugarhouse} AND initials = ${initials}`;
}

/** Ends a person's access and all their sessions. What they recorded stays. */
export async function endPerson({ sql, sugarhouse }: SugarhouseReader, initials: string, at: string): Promise<void> {
  await sql.run`UPDATE household_person SET ended_at = ${at} WHERE sugarhouse = ${sugarhouse} AND initials = ${initials}`;
  await sql.run`DELETE FROM household_session WHERE sugarhouse = ${sugarhouse} AND initials = ${initials}`;
}

/** A setting of the sugarhouse by name; undefined where it was never saved. */
export async function findNote({ sql, sugarhouse }: SugarhouseReader, name: string): Promise<string | undefined> {
  const row = await sql.row<{ words: string }>`SELECT words FROM household_note
    WHERE sugarhouse = ${sugarhouse} AND name = ${name}`;
  return row?.words;
}

/** Saves a setting of the sugarhouse, replacing any with that name. */
export async function saveNote({ sql, sugarhouse }: SugarhouseReader, name: string, text: string): Promise<void> {
  await sql.run`INSERT INTO household_note (sugarhouse, name, words) VALUES (${sugarhouse}, ${name}, ${text})
    ON CONFLICT (sugarhouse, name) DO UPDATE SET words = excluded.words`;
}

interface PersonColumns {
  initials: string;
  name: string;
  role: Role;
  password: string | null;
  ended_at: string | null;
}

const personFrom = (row: PersonColumns): Person => ({
  initials: row.initials,
  name: row.name,
  role: row.role,
  password: row.password ?? undefined,
  endedAt: row.ended_at ?? undefined,
});
