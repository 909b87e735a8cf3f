import type { ComponentChildren } from "preact";

export interface Choice {
  readonly value: string;
  readonly name: string;
  /** One line under the name. */
  readonly means?: string;
  /** What is known of it already, read out with its name. */
  readonly mark?: string;
}

interface ChoicesProps {
  readonly legend: string;
  readonly choices: readonly Choice[];
  readonly value: string | null;
  readonly onPick: (value: string) => void;
  readonly columns?: "few" | "many";
  readonly children?: ComponentChildren;
}

/** One of several by one tap: native radio buttons, as large as a gloved thumb, that arrow keys move through as well. */
export function Choices({ legend, choices, value, onPick, columns = "many", children }: ChoicesProps) {
  return (
    <fieldset class="choices" data-columns={columns}>
      <legend>{legend}</legend>
      <div class="choice-grid">
        {choices.map((choice) => (
          <label key={choice.value} class="choice" data-marked={choice.mark !== undefined}>
            <input
              type="radio"
              name={legend}
              checked={choice.value === value}
              onChange={() => onPick(choice.value)}
              onClick={() => {
                // Tapped again: the same choice, told again, so that a finding can be taken up anew.
                if (choice.value === value) onPick(choice.value);
              }}
            />
            <span class="choice-name">{choice.name}</span>
            {choice.means === undefined ? null : <span class="choice-means">{choice.means}</span>}
            {choice.mark === undefined ? null : <span class="choice-mark">{choice.mark}</span>}
          </label>
        ))}
        {children}
      </div>
    </fieldset>
  );
}
