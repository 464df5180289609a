/** The part of the statistics package that is used; it brings no types of its own. */
declare module "jstat" {
  const jstat: {
    readonly normal: {
      cdf(x: number, mean: number, standardDeviation: number): number;
      inv(probability: number, mean: number, standardDeviation: number): number;
    };
    readonly chisquare: { inv(probability: number, degreesOfFreedom: number): number };
    readonly studentt: { inv(probability: number, degreesOfFreedom: number): number };
  };
  export = jstat;
}
