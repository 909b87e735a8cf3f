/** The same fits by R's `survival`, where R is installed: times in seconds, and the estimates for a check of convergence. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { LifeSample } from "../../analysis/estimation/types.ts";

export interface OfR {
  readonly version: string;
  readonly fit: number;
  readonly productLimit: number;
  readonly refits: number;
  readonly profile: number;
  readonly shape: number;
  readonly scale: number;
}

/** survreg to its tightest tolerance; bounds of the shape by re-fitting with it held and the root of the drop, as one must there. */
const script = `
suppressMessages(library(survival))
read <- function(name) { d <- read.csv(name); Surv(d$time, d$status) }
seconds <- function(expr) system.time(expr)[["elapsed"]]
tight <- survreg.control(rel.tolerance = 1e-14, maxiter = 100)
million <- read("million.csv"); hundred <- read("hundred.csv"); many <- read("many.csv")
fit <- NULL
tFit <- seconds(fit <- survreg(million ~ 1, dist = "weibull", control = tight))
tCurve <- seconds(survfit(million ~ 1, conf.type = "log-log"))
set.seed(3)
tRefits <- seconds(for (i in 1:1000) { s <- hundred[sample(100, replace = TRUE)]; try(survreg(s ~ 1, dist = "weibull", control = tight), silent = TRUE) })
whole <- survreg(many ~ 1, dist = "weibull", control = tight)
profile <- function(scale) survreg(many ~ 1, dist = "weibull", scale = scale, control = tight)$loglik[1]
drop <- qchisq(0.95, 1) / 2
f <- function(logScale) whole$loglik[1] - profile(exp(logScale)) - drop
s <- log(whole$scale)
tProfile <- seconds({ uniroot(f, c(s - 0.1, s), tol = 1e-10); uniroot(f, c(s, s + 0.1), tol = 1e-10) })
cat(R.version.string, packageVersion("survival")[[1]] |> as.character(), "\\n")
cat(format(c(tFit, tCurve, tRefits, tProfile, 1 / fit$scale, exp(coef(fit)[[1]])), digits = 17), "\\n")
`;

/** Null where there is no R with `survival`. */
export function timeInR(samples: Readonly<Record<"million" | "hundred" | "many", LifeSample>>): OfR | null {
  if (spawnSync("Rscript", ["-e", "library(survival)"]).status !== 0) return null;
  const folder = mkdtempSync(join(tmpdir(), "beside-r-"));
  try {
    for (const [name, { lower, upper }] of Object.entries(samples)) {
      const rows = Array.from(lower, (age, row) => `${age},${upper[row] === age ? 1 : 0}`);
      writeFileSync(join(folder, `${name}.csv`), `time,status\n${rows.join("\n")}\n`);
    }
    writeFileSync(join(folder, "bench.R"), script);
    const { stdout, stderr, status } = spawnSync("Rscript", ["bench.R"], { cwd: folder, encoding: "utf8" });
    if (status !== 0) throw new Error(`R failed: ${stderr}`);
    const [version = "", figures = ""] = stdout.trim().split("\n");
    const [fit, productLimit, refits, profile, shape, scale] = figures.trim().split(/\s+/).map(Number) as [
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    return { version: version.trim(), fit, productLimit, refits, profile, shape, scale };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
