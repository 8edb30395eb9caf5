import type { NightView } from "@drumlin/gateway/contract";
import { titleOf } from "../../data/state.ts";
import { batchStates } from "../../format/batch-words.ts";
import { timeIn } from "../../format/night-words.ts";

/** Where the batches of salt water went in a night; nothing where there was none. */
export function NightBatches({ night }: { readonly night: NightView }) {
  if (night.batches.length === 0) return null;
  return (
    <section class="sheet">
      <h2>Batches</h2>
      <div class="tw">
        <table>
          <tbody>
            {night.batches.map(({ at, drum, state, salinity, kg }) => (
              <tr key={`${drum} ${at} ${state}`}>
                <td>{timeIn(night.timezone, at)}</td>
                <td>
                  {titleOf(drum)}: {batchStates[state].charAt(0).toLowerCase() + batchStates[state].slice(1)}
                </td>
                <td class="n">
                  {state === "salted" && kg !== null ? `${kg} kg` : ""}
                  {state === "ready" && salinity !== null ? salinity : ""}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}
