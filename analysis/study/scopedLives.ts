import type { Life } from "../lives/types.ts";
import { begunWith, betweenDates, inScope, type ShopData } from "./shopData.ts";
import type { Scope } from "./types.ts";

/** Lives of a scope: its tools, items and modes, restored between its dates, begun with its customer. In the order derived. */
export const scopedLives = (data: ShopData, scope: Scope): readonly Life[] =>
  data.derived.lives.filter(
    (life) =>
      inScope(scope, life) &&
      betweenDates(scope.from, scope.to, life.sinceOn) &&
      begunWith(data, scope.customer, life.runs),
  );
