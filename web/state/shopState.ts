/** What is in the records at present: fetched when the page opens and again after each stored drop. */
import { signal } from "@preact/signals";
import type { StateReply } from "../../analysis/index.ts";
import { fetchState } from "./api.ts";

export interface ShopState {
  readonly known: StateReply | null;
  readonly failure: Error | null;
  readonly slow: boolean;
}

export const shopState = signal<ShopState>({ known: null, failure: null, slow: false });

export async function loadShopState(): Promise<void> {
  const timer = setTimeout(() => {
    shopState.value = { ...shopState.value, slow: true };
  }, 250);
  try {
    shopState.value = { known: await fetchState(), failure: null, slow: false };
  } catch (cause) {
    const failure = cause instanceof Error ? cause : new Error(String(cause));
    shopState.value = { known: shopState.value.known, failure, slow: false };
  } finally {
    clearTimeout(timer);
  }
}
