import type { FrameGuard } from "./frame-guard.ts";
import { Allowance, type RateLimits } from "./rate.ts";

/** Packs and bytes of one node that may wait for the disk before it is held back, and bytes of all nodes. */
const maxPendingPacks = 400;
const maxPendingBytes = 2 * 1024 * 1024;
const maxTotalPendingBytes = 64 * 1024 * 1024;

type HoldReason = "rate" | "pending" | "total" | "room";

/** What one node has under way, over all of its connections. */
class NodeIntake {
  readonly allowance: Allowance;
  readonly guards = new Set<FrameGuard>();
  pendingPacks = 0;
  pendingBytes = 0;
  private readonly holds = new Set<HoldReason>();

  constructor(allowance: Allowance) {
    this.allowance = allowance;
  }

  isHeldFor(reason: HoldReason): boolean {
    return this.holds.has(reason);
  }

  hold(reason: HoldReason): void {
    this.holds.add(reason);
    for (const guard of this.guards) guard.hold();
  }

  release(reason: HoldReason): void {
    if (!this.holds.delete(reason)) return;
    for (const guard of [...this.guards]) {
      // What the guard before let through may have used everything up again.
      if (this.holds.size > 0) return;
      // To the end, so that another one is the first next time.
      this.guards.delete(guard);
      this.guards.add(guard);
      guard.release();
    }
  }

  join(guard: FrameGuard): void {
    this.guards.add(guard);
    if (this.holds.size > 0) guard.hold();
  }
}

interface IntakeComponents {
  readonly rate: RateLimits;
  readonly now: () => number;
  /** Null while there is room; else resolves when there is again (the rest of the path is behind). */
  readonly room: () => Promise<void> | null;
  /** Told when a node begins to be slowed for its rate. */
  readonly onTooFast: (node: string) => void;
}

/**
 * How much each node may have under way. Over its rate or budget a node is held back, on all of its connections, and slowed
 * by TCP: nothing is lost. What it used up is remembered when it goes and comes back.
 */
export class Intake {
  private readonly components: IntakeComponents;
  private readonly nodes = new Map<string, NodeIntake>();
  private readonly heldForTotal = new Set<NodeIntake>();
  private totalBytes = 0;

  constructor(components: IntakeComponents) {
    this.components = components;
  }

  private of(node: string): NodeIntake {
    const known = this.nodes.get(node);
    if (known) return known;
    const made = new NodeIntake(new Allowance(this.components.rate, this.components.now()));
    this.nodes.set(node, made);
    return made;
  }

  join(node: string, guard: FrameGuard): void {
    this.of(node).join(guard);
  }

  leave(node: string, guard: FrameGuard): void {
    this.nodes.get(node)?.guards.delete(guard);
  }

  /** A pack of so many bytes came in; holds the node back where it must. */
  begin(node: string, bytes: number): void {
    const intake = this.of(node);
    intake.pendingPacks += 1;
    intake.pendingBytes += bytes;
    this.totalBytes += bytes;
    if (intake.pendingPacks >= maxPendingPacks || intake.pendingBytes >= maxPendingBytes)
      intake.hold("pending");
    if (this.totalBytes >= maxTotalPendingBytes) {
      this.heldForTotal.add(intake);
      intake.hold("total");
    }
    const waitMs = intake.allowance.take(bytes, this.components.now());
    if (waitMs > 0 && !intake.isHeldFor("rate")) {
      intake.hold("rate");
      this.components.onTooFast(node);
      setTimeout(() => intake.release("rate"), waitMs);
    }
    if (intake.isHeldFor("room")) return;
    const behind = this.components.room();
    if (behind === null) return;
    intake.hold("room");
    void behind.then(() => intake.release("room"));
  }

  /** A pack has its answer, or never gets one. */
  end(node: string, bytes: number): void {
    const intake = this.of(node);
    intake.pendingPacks -= 1;
    intake.pendingBytes -= bytes;
    this.totalBytes -= bytes;
    if (intake.pendingPacks < maxPendingPacks / 2 && intake.pendingBytes < maxPendingBytes / 2)
      intake.release("pending");
    if (this.heldForTotal.size > 0 && this.totalBytes < maxTotalPendingBytes / 2) {
      for (const held of this.heldForTotal) held.release("total");
      this.heldForTotal.clear();
    }
  }

  /** Forgets nodes that have gone and whose allowance is whole again. */
  sweep(): void {
    const nowMs = this.components.now();
    for (const [node, { guards, pendingPacks, allowance }] of this.nodes)
      if (guards.size === 0 && pendingPacks === 0 && allowance.isWhole(nowMs)) this.nodes.delete(node);
  }
}
