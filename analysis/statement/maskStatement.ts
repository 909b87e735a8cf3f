import { AnalysisError } from "../errors.ts";
import type { Records } from "../records/descriptor.ts";
import type { ItemLifeResult, Notice, Scope, StudyDefinition, WhatFailsResult } from "../study/types.ts";
import { type NamesToMask, namesToMask } from "./namesToMask.ts";
import type { Aliases, Incident, MaskedKind, StatementDefinition, StatementResult } from "./types.ts";

type Content = Omit<StatementResult, "contentHash">;

/**
 * A statement without the shop's names: each is called by its alias wherever it stands, also inside the texts that people
 * wrote. Other customers than the one it is for are never named. Where the statement is not masked, only they are.
 * What a picture carries for the page (ids of lives and rows) is left out either way.
 *
 * Errors  "alias-missing" naming the kind, never the name.
 */
export function maskStatement(content: Content, aliases: Aliases, records: Records): Content {
  const names = namesToMask(records, aliases, {
    everything: content.definition.masked,
    customer: content.definition.scope.customer,
  });
  const masked = new Masker(names, aliases);
  const { definition, evidence, failureFree, incident, modes, actions, beforeAfter, failureDefinition, pictures } =
    content;
  return {
    ...content,
    definition: masked.definition(definition),
    failureDefinition: { ...failureDefinition, statements: failureDefinition.statements.map(masked.text) },
    failureFree: {
      ...failureFree,
      bySerial: failureFree.bySerial.map((one) => ({ ...one, serial: masked.name("tool", one.serial) })),
    },
    modes: modes.map((mode) => ({
      ...mode,
      causes: { ...mode.causes, known: mode.causes.known.map((one) => ({ ...one, cause: masked.text(one.cause) })) },
    })),
    actions: actions.map((action) => ({ ...action, what: masked.text(action.what) })),
    beforeAfter: beforeAfter && {
      ...beforeAfter,
      change: { ...beforeAfter.change, what: masked.text(beforeAfter.change.what) },
    },
    incident: incident && masked.incident(incident),
    evidence: {
      ...evidence,
      strata: evidence.strata.map((stratum) =>
        stratum.by === "customer"
          ? {
              ...stratum,
              groups: stratum.groups.map((group) => ({ ...group, name: masked.name("customer", group.name) })),
            }
          : stratum,
      ),
    },
    pictures: {
      whatFails: masked.whatFails(pictures.whatFails),
      lives: pictures.lives.map((one) => masked.itemLife(one)),
    },
  };
}

class Masker {
  constructor(
    private readonly names: NamesToMask,
    private readonly aliases: Aliases,
  ) {}

  /** A name in a field of its own. */
  name(kind: MaskedKind, name: string): string {
    if (!this.names.isMasked(kind, name)) return name;
    const alias = this.aliases[kind]?.[name];
    if (alias === undefined) throw new AnalysisError("alias-missing", { kind });
    return alias;
  }

  /** A text that somebody wrote. */
  text = (text: string): string => this.names.maskText(text);

  scope(scope: Scope): Scope {
    const { serial, customer, serials, wells } = scope;
    return {
      ...scope,
      serial: serial === null ? null : this.name("tool", serial),
      customer: customer === null ? null : this.name("customer", customer),
      ...(serials === undefined ? {} : { serials: serials.map((one) => this.name("tool", one)) }),
      ...(wells === undefined ? {} : { wells: wells.map((one) => this.name("well", one)) }),
    };
  }

  definition(definition: StatementDefinition): StatementDefinition {
    const { scope, change, incidentRun, actions } = definition;
    return {
      ...definition,
      scope: this.scope(scope),
      change: change && { ...change, what: this.text(change.what) },
      incidentRun: incidentRun === null ? null : this.name("record", incidentRun),
      actions: actions.map((action) => ({ ...action, what: this.text(action.what) })),
    };
  }

  incident(incident: Incident): Incident {
    return {
      ...incident,
      run: this.name("record", incident.run),
      serial: this.name("tool", incident.serial),
      well: incident.well === null ? null : this.name("well", incident.well),
      findings: incident.findings.map((one) => ({ ...one, cause: one.cause === null ? null : this.text(one.cause) })),
    };
  }

  whatFails(result: WhatFailsResult): WhatFailsResult {
    return {
      ...result,
      ...this.study(result),
      modes: result.modes.map((mode) => ({ ...mode, lifeIds: [] })),
      toolEvents: [],
    };
  }

  itemLife(result: ItemLifeResult): ItemLifeResult {
    return {
      ...result,
      ...this.study(result),
      plotPoints: result.plotPoints.map((point) => ({ ...point, lifeIds: [] })),
      histories: result.histories.map((history, index) => ({
        ...history,
        lifeId: `life ${index + 1}`,
        serial: this.name("tool", history.serial),
        since: "",
        looks: [],
        runs: [],
      })),
    };
  }

  private study<
    R extends {
      definition: StudyDefinition;
      scope: Scope;
      failureDefinition: WhatFailsResult["failureDefinition"];
      notices: readonly Notice[];
    },
  >(result: R) {
    return {
      definition: { ...result.definition, scope: this.scope(result.definition.scope) },
      scope: this.scope(result.scope),
      failureDefinition: {
        ...result.failureDefinition,
        statements: result.failureDefinition.statements.map(this.text),
      },
      // Notices name rows and serials; what they say of the whole is said by the statement itself.
      notices: [] as readonly Notice[],
    };
  }
}
