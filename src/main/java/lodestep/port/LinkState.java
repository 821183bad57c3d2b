package lodestep.port;

/**
 * How the link to the head stands.
 *
 * @param open whether the line is open; says nothing about whether the head speaks
 * @param badLines lines dropped since the start: bad CRC, too long, not understood
 * @param words one sentence for a person: what, where, what to do
 */
public record LinkState(boolean open, long badLines, String words) {}
