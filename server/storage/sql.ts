/** The little of SQL that both engines share. Values come back as JSON, so dates and large whole numbers read the same on both. */
export interface Sql {
  query(text: string, parameters?: readonly unknown[]): Promise<readonly Readonly<Record<string, unknown>>[]>;
}

export interface Database extends Sql {
  readonly kind: "embedded" | "server";
  /** Where it is, without user or password. */
  readonly place: string;
  /** Runs in one transaction: commits when `work` returns, rolls back when it throws. */
  transaction<T>(work: (sql: Sql) => Promise<T>): Promise<T>;
  /** After a commit: puts on the disk what the engine only wrote. Never throws: the journal already holds the batch. */
  sync(): Promise<void>;
  close(): Promise<void>;
}

/** Rows of a query that selects one JSON column named `row`. */
export async function jsonRows<T>(sql: Sql, text: string, parameters: readonly unknown[] = []): Promise<readonly T[]> {
  return (await sql.query(text, parameters)).map(({ row }) => row as T);
}

export const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`;
