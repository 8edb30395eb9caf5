import { mayAct } from "../data/me.ts";
import { sayWork } from "../data/messages.ts";
import { gatewayNowMs, line, titleOf } from "../data/state.ts";
import { clock } from "../format/numbers.ts";
import { ActAnswer, ActButton, useActs } from "./use-acts.tsx";

/** On every page: who works on what, and until when what that can cause is silent. */
export function WorkBar() {
  const acts = useActs();
  const works = line.value?.work ?? [];
  if (works.length === 0) return null;
  return (
    <div class="work-bar" ref={acts.host}>
      {works.map(({ kind, id, by, until, forgotten }) => (
        <p key={`${kind}/${id}`}>
          {forgotten
            ? `${by} worked on ${titleOf(id)} until ${clock(until, gatewayNowMs.value)}. It rings again. `
            : `${by} works on ${titleOf(id)}: what that can cause is paused until ${clock(until, gatewayNowMs.value)}. `}
          {mayAct.value && (
            <ActButton
              acts={acts}
              name="Done"
              subject={titleOf(id)}
              done="Watched again."
              send={() => sayWork({ kind, id }, null)}
            />
          )}
        </p>
      ))}
      <ActAnswer acts={acts} />
    </div>
  );
}
