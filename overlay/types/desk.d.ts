// What the desk page knows. Written by hand; what the host says is in host.d.ts,
// written by `cargo xtask types`.
import type { HostState, Links, PluginReport } from "./host.js";

export type * from "./host.js";

/** What the desk page knows; every part of it draws from this. */
export type DeskView = {
  host: HostState | null;
  /** The address that goes into links stands first. */
  links: Links | null;
  /** The host's addresses in the order it offers them. */
  offered: string[];
  plugins: PluginReport | null;
  /** Why there is no fresh word from the host; empty while there is. */
  trouble: string;
  /** When the host was last heard, this machine's clock, ms; 0: never. */
  heardAt: number;
  /** Why links or plugins are not known, though the host answers; else empty. */
  missing: { links: string; plugins: string };
  /** What the host says it can do: the paths it describes. Null: it does not say, so all of it. */
  paths: readonly string[] | null;
  /** Host's clock minus this machine's, ms. */
  clockMs: number;
};
