import type { GivenAct } from "../acts/index.ts";
import type { HttpComponents } from "./components.ts";
import { Refusal } from "./refusal.ts";

/** Hands an act over. Resolves when it was taken; throws the refusal by its name. */
export async function giveAct({ act }: HttpComponents, given: GivenAct, by: string): Promise<void> {
  const refused = await act(given, by);
  if (refused) throw new Refusal(refused.code, refused.message);
}
