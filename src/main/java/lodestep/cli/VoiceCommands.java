package lodestep.cli;

import picocli.CommandLine.Command;
import picocli.CommandLine.HelpCommand;

/** What a level and a coil mean to the ear: reckoned, and custom marked as such. */
final class VoiceCommands {

  static final String CUSTOM = "Custom (common practice, no source; nothing of it is reckoned): ";

  private VoiceCommands() {}

  /** The group itself, which only says what there is. */
  @Command(
      name = "voice",
      description = "What a level means to the strings, and where a coil rings; nothing is driven.",
      subcommands = HelpCommand.class)
  static final class OfVoice extends Group {
    OfVoice(Desk desk) {
      super(desk);
    }
  }
}
