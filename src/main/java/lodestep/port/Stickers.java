package lodestep.port;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Labels for trays and baseplates, to be printed on a sheet and cut or peeled. Any thread,
 * immutable.
 *
 * @param across a word printed across each, such as VIRTUAL
 */
public record Stickers(Optional<String> across, List<Sticker> all) {

  public Stickers {
    all = List.copyOf(all);
  }

  /** These and then those. */
  public Stickers with(Stickers more) {
    List<Sticker> both = new ArrayList<>(all);
    both.addAll(more.all());
    return new Stickers(across.or(more::across), both);
  }

  /**
   * One label.
   *
   * @param name the largest line
   * @param lines below it, three at most are legible
   * @param code what its square code holds
   */
  public record Sticker(String name, List<String> lines, String code) {
    public Sticker {
      lines = List.copyOf(lines);
    }
  }
}
