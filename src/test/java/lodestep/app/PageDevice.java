package lodestep.app;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;

/**
 * A device that speaks to the page's server by hand, header by header, so that it can also say what
 * no browser would.
 */
final class PageDevice {

  private static final JsonMapper MAPPER = JsonMapper.builder().build();
  private static final int PATIENCE_MS = 60_000;

  /** What came back. */
  record Said(int status, String cookie, String body) {
    JsonNode json() throws IOException {
      return MAPPER.readTree(body);
    }

    String refused() throws IOException {
      return json().path("refused").asText();
    }
  }

  private final int port;
  private String token = "";
  private String proof = "";

  PageDevice(int port) {
    this.port = port;
  }

  /** One that has been paired by this code. */
  static PageDevice paired(int port, String code) throws IOException {
    PageDevice device = new PageDevice(port);
    Said said =
        device.send("POST", "/api/v1/pair", device.usual(), object().put("code", code).toString());
    if (said.status() != 200) {
      throw new IOException("not paired: " + said);
    }
    device.token = said.cookie();
    device.proof = said.json().path("proof").asText();
    return device;
  }

  static ObjectNode object() {
    return MAPPER.createObjectNode();
  }

  /** The headers that the page itself would send. */
  Map<String, String> usual() {
    Map<String, String> headers = new LinkedHashMap<>();
    headers.put("Host", "127.0.0.1:" + port);
    headers.put("Origin", "http://127.0.0.1:" + port);
    headers.put("Content-Type", "application/json");
    if (!token.isEmpty()) {
      headers.put("Cookie", token);
      headers.put("X-Lodestep-Proof", proof);
    }
    return headers;
  }

  Said get(String path) throws IOException {
    return send("GET", path, usual(), "");
  }

  /** A file, byte by byte, with what the server says of it. */
  HttpResponse<byte[]> file(String path) throws IOException, InterruptedException {
    return HttpClient.newHttpClient()
        .send(
            HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + port + path))
                .header("Cookie", token)
                .build(),
            HttpResponse.BodyHandlers.ofByteArray());
  }

  /** A command as the page makes it, asked again while the rig moves on under it. */
  JsonNode act(String path, ObjectNode body) throws IOException {
    Said said = post(path, fresh(body));
    while (said.status() == 409) {
      said = post(path, fresh(body));
    }
    return said.json();
  }

  /** What the page shows now. */
  JsonNode now() throws IOException {
    return get("/api/v1/now").json();
  }

  /** A command as the page would make it now. */
  ObjectNode fresh(ObjectNode body) throws IOException {
    JsonNode now = now();
    return body.put("key", UUID.randomUUID().toString())
        .put("saw", now.path("version").asLong())
        .put("by", now.path("at").asLong() + 4_000);
  }

  Said post(String path, ObjectNode body) throws IOException {
    return send("POST", path, usual(), body.toString());
  }

  /** One request, asked again while the server says that too much is asked. */
  Said send(String method, String path, Map<String, String> headers, String body)
      throws IOException {
    Said said = sendOnce(method, path, headers, body);
    while (said.status() == 429 && said.refused().equals("too many")) {
      said = sendOnce(method, path, headers, body);
    }
    return said;
  }

  /** One request on a connection of its own. */
  Said sendOnce(String method, String path, Map<String, String> headers, String body)
      throws IOException {
    byte[] bytes = body.getBytes(StandardCharsets.UTF_8);
    StringBuilder head = new StringBuilder(method + " " + path + " HTTP/1.1\r\n");
    headers.forEach((name, value) -> head.append(name).append(": ").append(value).append("\r\n"));
    head.append("Connection: close\r\nContent-Length: ").append(bytes.length).append("\r\n\r\n");
    try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), port)) {
      socket.setSoTimeout(PATIENCE_MS);
      OutputStream out = socket.getOutputStream();
      out.write(head.toString().getBytes(StandardCharsets.UTF_8));
      out.write(bytes);
      out.flush();
      return heard(socket.getInputStream());
    }
  }

  /** Status, the cookie that was set, and the body, or the first event of a stream. */
  private static Said heard(InputStream in) throws IOException {
    BufferedReader lines = new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8));
    String first = String.valueOf(lines.readLine());
    int status = Integer.parseInt(first.split(" ", -1)[1]);
    String cookie = "";
    boolean stream = false;
    for (String line = lines.readLine(); line != null && !line.isEmpty(); line = lines.readLine()) {
      String plain = line.toLowerCase(Locale.ROOT);
      if (plain.startsWith("set-cookie:")) {
        cookie = line.substring("set-cookie:".length()).strip().split(";", -1)[0];
      }
      stream |= plain.startsWith("content-type: text/event-stream");
    }
    StringBuilder body = new StringBuilder();
    for (String line = lines.readLine(); line != null; line = lines.readLine()) {
      body.append(line).append('\n');
      if (stream && line.startsWith("data: ") && body.indexOf("event: now") >= 0) {
        break;
      }
    }
    return new Said(status, cookie, body.toString());
  }
}
