import { type FilePreview, type Problem, sayProblem } from "../../../analysis/index.ts";

const aboutTabs: ReadonlySet<Problem["code"]> = new Set(["tab-hidden", "tab-empty"]);

export const isAboutTab = ({ code }: Problem): boolean => aboutTabs.has(code);

/** Tabs of a workbook that nobody may have known of: hidden ones are read, empty ones give nothing. Both are said. */
export function TabNotices({ files }: { readonly files: readonly FilePreview[] }) {
  const notices = files.flatMap((file) => file.problems).filter(isAboutTab);
  if (notices.length === 0) return null;
  return (
    <ul class="notices">
      {notices.map((problem) => (
        <li key={`${problem.code} ${problem.origin.file} ${problem.origin.sheet}`}>
          <span>{sayProblem(problem)}</span>
        </li>
      ))}
    </ul>
  );
}
