package lodestep.config;

import org.tomlj.Toml;
import org.tomlj.TomlParseError;
import org.tomlj.TomlParseResult;

/**
 * The rig's description, {@code rig.toml}: TOML 1.0, {@code schema = 1}. Quantities are text with
 * their unit, as a winder writes them ({@code capacitance = "22 mF"}); the few figures whose unit
 * nobody writes carry it in their key ({@code counts_per_tesla = 500000}). A person writes this
 * file and the program never does. Pure: text in, records out.
 */
public final class RigFile {

  private RigFile() {}

  /**
   * Reads a rig's description.
   *
   * @param fileName how the file is called in refusals
   * @param text all of the file
   * @return the rig, or everything that is wrong with the file at once; a file whose TOML cannot be
   *     read is judged for its TOML alone
   */
  public static RigReading read(String fileName, String text) {
    Problems problems = new Problems(fileName);
    TomlParseResult parsed = Toml.parse(withoutMark(text));
    parsed.errors().forEach(error -> problems.add(error.position(), sentence(error)));
    if (parsed.hasErrors()) {
      return new RigReading.Refusal(problems.written());
    }
    return new RigReader(problems, Section.root(problems, parsed))
        .read()
        .<RigReading>map(rig -> new RigReading.Rig(rig.readFrom(text)))
        .orElseGet(() -> new RigReading.Refusal(problems.written()));
  }

  /** The rig as understood, in lines for a person, with the figures that follow from it. */
  public static String show(RigConfig rig) {
    return RigText.of(rig);
  }

  /** Some editors put a byte order mark before the first character; TOML knows none. */
  private static String withoutMark(String text) {
    return text.startsWith("\ufeff") ? text.substring(1) : text;
  }

  private static String sentence(TomlParseError error) {
    return "this is not TOML: " + String.valueOf(error.getMessage()).replace("\n", " ");
  }
}
