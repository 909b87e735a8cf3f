/** The one function of the jstat package (1.9) that this engine uses; the package ships no types. */
declare module "jstat" {
  const package_: {
    readonly jStat: {
      readonly tukey: {
        /** P(Q <= q) of the studentized range of `groups` means with `df` degrees of freedom. */
        cdf(q: number, groups: number, df: number): number;
      };
    };
  };
  export default package_;
}
