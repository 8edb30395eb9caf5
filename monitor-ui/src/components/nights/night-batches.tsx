import type { NightView } from "@drumlin/gateway/contract";
import { titleOf } from "../../data/state.ts";
import { timeIn } from "../../format/night-words.ts";
import { asSet } from "../../format/numbers.ts";
import { w } from "../../words/words.ts";

/** Where the batches of salt water went in a night. */
export function NightBatches({ night }: { readonly night: NightView }) {
  return (
    <section>
      <h2>{w.batchWords.batches}</h2>
      <div class="tw">
        <table>
          <tbody>
            {night.batches.map(({ at, drum, state, salinity, kg }) => (
              <tr key={`${drum} ${at} ${state}`}>
                <td>{timeIn(night.timezone, at)}</td>
                <td>
                  {titleOf(drum)}: {w.batchWords.states[state]}
                </td>
                <td class="n">
                  {state === "salted" && kg !== null ? `${asSet(kg)} kg` : ""}
                  {state === "ready" && salinity !== null ? asSet(salinity) : ""}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}
