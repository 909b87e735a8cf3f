import { type ComponentType, h } from "preact";
import { useEffect, useState } from "preact/hooks";
import { Failure, Waiting } from "../parts/States.tsx";

/** How long a part may take before words stand in for it, ms. */
const SLOW = 400;

/** A view whose code is fetched when it is first gone to, so that the first answer does not wait for all the others. */
export function lazyView<Props extends object>(load: () => Promise<ComponentType<Props>>): ComponentType<Props> {
  let known: ComponentType<Props> | null = null;
  return function LazyView(props: Props) {
    const [loaded, setLoaded] = useState<{ readonly view: ComponentType<Props> } | null>(known && { view: known });
    const [failure, setFailure] = useState<Error | null>(null);
    const [slow, setSlow] = useState(false);
    useEffect(() => {
      if (loaded !== null) return;
      load().then(
        (view) => {
          known = view;
          setLoaded({ view });
        },
        () => setFailure(new Error("The server did not send this part of the page. Is it still running?")),
      );
      const timer = setTimeout(() => setSlow(true), SLOW);
      return () => clearTimeout(timer);
    }, []);
    if (loaded !== null) return h(loaded.view, props);
    if (failure !== null)
      return (
        // Browsers keep a failed module as failed: only a fresh page asks again. The address says where to come back to.
        <Failure title="This part of the page is not there" failure={failure} again={() => window.location.reload()} />
      );
    return <Waiting slow={slow}>Opening…</Waiting>;
  };
}
