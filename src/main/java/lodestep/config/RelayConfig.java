package lodestep.config;

/**
 * What is known of the relays' contacts, for telling how much of their life is used. Any thread,
 * immutable.
 *
 * @param operations how often one relay is expected to work under this load, from its data sheet,
 *     &gt; 0; 0 where nobody has said
 * @param newSince the day on which the present relays were put in, as year-month-day (ISO 8601);
 *     empty where they are as old as the record
 */
public record RelayConfig(long operations, String newSince) {

  /** Nobody has said. */
  public static final RelayConfig NONE = new RelayConfig(0, "");

  /** Whether the data sheet's figure is known. */
  public boolean named() {
    return operations > 0;
  }
}
