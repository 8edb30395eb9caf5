import { AlarmRows } from "../components/alarm-row.tsx";
import { FirstSteps } from "../components/first-steps.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { line, lost } from "../data/state.ts";
import { LinePicture } from "../line/line-picture.tsx";

/** The page Line: what stands in a line each, the drums, the line as it is drawn. */
export function LinePage() {
  const shown = line.value;
  return (
    <PageFrame title="Line" spoken>
      <AlarmRows />
      {shown === null ? (
        <p class="soft">
          {lost.value ? "Still no answer from the gateway. Is its machine on?" : "Connecting…"}
        </p>
      ) : (
        <>
          {shown.waitsFor.length > 0 && shown.nodes.length === 0 && <FirstSteps line={shown} />}
          <LinePicture line={shown} notes={lost.value ? <WhatToCheck /> : undefined} />
        </>
      )}
    </PageFrame>
  );
}

function WhatToCheck() {
  return (
    <section class="note">
      <h2>What to check</h2>
      <p>Is the gateway's machine on? Is this device on the house's network?</p>
      <p class="soft">The floats work without the gateway. Nobody is watching them now: look in yourself.</p>
    </section>
  );
}
