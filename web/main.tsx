import { render } from "preact";
import { followBackAndForward } from "./state/navigation.ts";
import { applyTheme } from "./state/theme.ts";
import { Page } from "./views/shell/Page.tsx";
import "./styles/fonts.css";
import "./styles/base.css";
import "./styles/shell.css";
import "./styles/view.css";
import "./styles/records.css";
import "./styles/forms.css";
import "./styles/decisions.css";
import "./styles/statement.css";
import "./styles/audit.css";

applyTheme();
followBackAndForward();
const root = document.getElementById("page");
if (root !== null) render(<Page />, root);
