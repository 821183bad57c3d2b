package lodestep.adapter.serial;

import java.nio.file.Path;
import java.util.Optional;

/** What a person is told about the port: what, where, what to do. Pure. */
final class LinkWords {

  private LinkWords() {}

  static String opening(Path port) {
    return "the head's port " + port + " has not been opened yet; this takes a moment";
  }

  static String open(Path port) {
    return "the head's port " + port + " is open";
  }

  static String missing(Path port) {
    return "there is no port "
        + port
        + "; plug the head in and switch it on, or correct the port in rig.toml";
  }

  static String notAPort(Path port) {
    return port + " is not a serial port; correct the port in rig.toml";
  }

  /**
   * The port is there, but this user may not open it.
   *
   * @param group the group that owns the port, where that is a group a person can join
   */
  static String denied(Path port, Optional<String> group) {
    return "you may not open the head's port "
        + port
        + "; "
        + group
            .map(
                name ->
                    "join its group by 'sudo usermod -aG " + name + " $USER', then log in again")
            .orElse("ask whoever looks after this computer to let you read and write it");
  }

  static String busy(Path port) {
    return "the head's port "
        + port
        + " is in use by another program; close that program, the link then opens by itself";
  }

  static String notOpened(Path port, int errorNumber) {
    return "the head's port "
        + port
        + " does not open (system error "
        + errorNumber
        + "); pull its cable, plug it in again and see whether the head has its supply";
  }

  static String lost(Path port) {
    return "the head's port "
        + port
        + " is gone: its cable is pulled or its supply is off; plug it in, the link then opens by"
        + " itself";
  }

  static String notTaken(Path port) {
    return "the head on port "
        + port
        + " does not take what is sent to it; pull its cable and plug it in again";
  }

  static String noLibrary(String reason) {
    return "the serial library does not load on this computer ("
        + reason
        + "); see that the folder for temporary files may be written and run from";
  }

  static String broken(Path port, Throwable cause) {
    return "the link to the head's port "
        + port
        + " has failed in the program itself ("
        + cause
        + "); stop the program and start it again";
  }

  static String closed(Path port) {
    return "the head's port " + port + " has been closed";
  }
}
