/** A type with every part read-only and without the `| undefined` that zod adds to optional members. */
export type Normal<T> = T extends string | number | boolean | null | undefined
  ? T
  : { readonly [K in keyof T]: Normal<Exclude<T[K], undefined>> };

type Within<A, B> = [A] extends [B] ? true : false;

/**
 * `true` where two types admit the same values, read-only or not; otherwise `false`. A contract writes
 * `true satisfies SameType<z.infer<typeof schema>, Contract>`, so a schema that strays from its type does not compile.
 */
export type SameType<A, B> = Within<Normal<A>, Normal<B>> extends true ? Within<Normal<B>, Normal<A>> : false;
