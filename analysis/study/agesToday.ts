import type { AgesToday } from "../decisions/decideInterval.ts";
import type { RedressPractice } from "./redressPractice.ts";

/**
 * Hours since the redress before at which the shop redresses as planned. A redress after a failure came before its time:
 * its time is not known, only that it was later (the product-limit curve of the planned ages, which shares it out).
 */
export function agesToday({ redresses }: Pick<RedressPractice, "redresses">): AgesToday {
  const order = redresses
    .filter(({ hours }) => hours > 0)
    .map(({ hours, redress }) => ({ hours, planned: redress.reason !== "failure" }))
    .sort((a, b) => a.hours - b.hours || Number(b.planned) - Number(a.planned));
  let left = 1;
  return order.flatMap(({ hours, planned }, place) => {
    if (!planned) return [];
    const weight = left / (order.length - place);
    left -= weight;
    return [{ age: hours, weight }];
  });
}
