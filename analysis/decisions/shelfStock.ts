/** What must be on the shelf of one kit until more of it can come. */
export interface ShelfStock {
  /** Kits used within the lead time, on average over the futures. */
  readonly expected: number;
  /** So many are enough with the service level asked. */
  readonly enough: number;
  /** Chance that those on hand are not. Null where nobody counted. */
  readonly shortChance: number | null;
  /** To order now, so that there are enough. Null where nobody counted. */
  readonly toOrder: number | null;
}

/**
 * @param demand   Kits used within the lead time, one number a future; at least one.
 * @param service  Chance that the shelf is not empty when a kit is wanted within the lead time, 0 < service < 1.
 */
export function shelfStock(demand: readonly number[], onHand: number | null, service: number): ShelfStock {
  const ordered = [...demand].sort((a, b) => a - b);
  const enough = ordered[Math.min(ordered.length - 1, Math.max(0, Math.ceil(service * ordered.length) - 1))] ?? 0;
  return {
    expected: demand.reduce((sum, one) => sum + one, 0) / demand.length,
    enough,
    shortChance: onHand === null ? null : demand.filter((one) => one > onHand).length / demand.length,
    toOrder: onHand === null ? null : Math.max(0, enough - onHand),
  };
}
