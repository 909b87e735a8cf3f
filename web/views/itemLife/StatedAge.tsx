import { useEffect, useState } from "preact/hooks";

/** "Still good at [250] h": the age is asked for in place and goes into the address. */
export function StatedAge({ age, onAge }: { readonly age: number; readonly onAge: (age: number) => void }) {
  const [text, setText] = useState(String(age));
  useEffect(() => setText(String(age)), [age]);
  const give = () => {
    const value = Number(text);
    if (Number.isFinite(value) && value > 0 && value !== age) onAge(value);
    else setText(String(age));
  };
  return (
    <form
      class="in-line"
      onSubmit={(event) => {
        event.preventDefault();
        give();
      }}
    >
      <label>
        Still good at{" "}
        <input
          type="number"
          inputMode="decimal"
          min="1"
          step="any"
          value={text}
          onInput={(event) => setText(event.currentTarget.value)}
          onBlur={give}
          aria-label="Age in hours at which to state how many are still good"
        />{" "}
        h
      </label>
    </form>
  );
}
