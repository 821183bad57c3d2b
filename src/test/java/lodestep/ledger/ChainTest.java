package lodestep.ledger;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import lodestep.port.Bytes;
import lodestep.port.ChainEnd;
import lodestep.port.EventDraft;
import lodestep.port.Hash;
import lodestep.port.StoredEvent;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ChainTest {

  /** The examples NIST publishes for SHA-256 of FIPS 180-4: one block, two blocks, no byte. */
  @ParameterizedTest
  @CsvSource({
    "'abc', ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
    "'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',"
        + " 248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
    "'', e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
  })
  void hashesAsPublished(String message, String hash) {
    int half = message.length() / 2;

    assertThat(Chain.sha256(Bytes.ofUtf8(message))).isEqualTo(Hash.ofHex(hash));
    assertThat(
            Chain.sha256(
                Bytes.ofUtf8(message.substring(0, half)), Bytes.ofUtf8(message.substring(half))))
        .isEqualTo(Hash.ofHex(hash));
  }

  /** The example in the package's documentation; its hashes were made with another program. */
  @Test
  void documentsAnExampleThatIsTrue() throws IOException {
    List<String> example = documentedExample();
    assertThat(example).hasSize(4);

    ChainEnd end = ChainEnd.EMPTY;
    for (int i = 0; i < example.size(); i += 2) {
      LedgerEntry entry = EventCodec.decode(Bytes.ofUtf8(example.get(i)));
      StoredEvent again =
          Chain.link(end, new EventDraft(entry.event(), entry.atNs(), entry.wall()));

      assertThat(again.payload().utf8()).isEqualTo(example.get(i));
      assertThat(again.hash()).isEqualTo(Hash.ofHex(example.get(i + 1)));
      end = again.end();
    }
  }

  private static List<String> documentedExample() throws IOException {
    Path documented =
        Path.of(System.getProperty("lodestep.repository", "."))
            .resolve("src/main/java/lodestep/ledger/package-info.java");
    List<String> example = new ArrayList<>();
    boolean inside = false;
    for (String line : Files.readAllLines(documented)) {
      String text = line.replaceFirst("^ \\* ?", "");
      inside &= !text.equals("</pre>");
      if (inside && text.startsWith("  ")) {
        example.add(example.remove(example.size() - 1) + text.strip());
      } else if (inside) {
        example.add(text);
      }
      inside |= text.equals("<pre>");
    }
    return example;
  }
}
