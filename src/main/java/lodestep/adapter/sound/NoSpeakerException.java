package lodestep.adapter.sound;

/** There is no sound device to be had; the message is half a sentence for a person. */
final class NoSpeakerException extends Exception {

  private static final long serialVersionUID = 1L;

  NoSpeakerException(String why, Throwable cause) {
    super(why, cause);
  }
}
