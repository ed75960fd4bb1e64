//! A folder behind WebDAV (RFC 4918) as a place of deposit. A bundle is sent under an unfinished name, read back,
//! and moved to its own name where that is free; so what has the name is whole.

use std::fs::File;
use std::io::Read;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Duration;

use data_encoding::BASE64;
use futures_util::future::{Either, select};
use futures_util::stream;
use object_store::http::{HttpBuilder, HttpStore};
use object_store::path::Path as Key;
use object_store::{ClientOptions, HeaderMap, HeaderValue, ObjectStoreExt};
use reqwest::{Body, Method, StatusCode, Url};

use super::line::{Careful, Line, client, retries};
use super::s3::read_back;
use super::{
    Bundle, Credentials, DepositError, Memory, Place, WEBDAV_PASSWORD, WEBDAV_USER, Watch,
};
use crate::disk::{CHUNK, Sha256Digest, UNFINISHED_PREFIX, open_file};

/// How often a sending is looked after.
const LOOK: Duration = Duration::from_millis(100);
/// After so many looks at which nothing has moved, the line counts as broken: two minutes.
const PATIENCE: u32 = 1200;
/// How often a broken sending is begun again.
const TRIES: u32 = 4;

/// A folder behind WebDAV.
pub(super) struct WebDav {
    store: HttpStore,
    client: reqwest::Client,
    url: Url,
    line: Line,
}

impl WebDav {
    /// Opens the folder, which must be there.
    pub fn open(url: &str, credentials: &Credentials) -> Result<Self, DepositError> {
        let user = credentials.get(WEBDAV_USER).map_or("", String::as_str);
        let password = credentials.get(WEBDAV_PASSWORD).map_or("", String::as_str);
        let both = BASE64.encode(format!("{user}:{password}").as_bytes());
        let secrets = vec![both.clone(), password.to_owned(), user.to_owned()];
        let line = Line::new(url.to_owned(), secrets)?;
        let bad = |why: String| DepositError::Address {
            address: url.to_owned(),
            why,
        };
        let mut headers = HeaderMap::new();
        if !user.is_empty() {
            let mut value = HeaderValue::from_str(&format!("Basic {both}"))
                .map_err(|_| bad("the name and password make no header".into()))?;
            value.set_sensitive(true);
            headers.insert("authorization", value);
        }
        let store = HttpBuilder::new()
            .with_url(url)
            .with_client_options(ClientOptions::new().with_allow_http(url.starts_with("http://")))
            .with_retry(retries())
            .with_http_connector(Careful(headers.clone()))
            .build()
            .map_err(|e| line.error("the address", &e))?;
        let client = client(headers, None).map_err(|e| line.broke("beginning", &e.to_string()))?;
        let url = Url::parse(&format!("{url}/")).map_err(|e| bad(e.to_string()))?;
        let folder = Self {
            store,
            client,
            url,
            line,
        };
        folder
            .octets_at(&Key::default())?
            .ok_or_else(|| DepositError::NotThere {
                place: folder.line.place.clone(),
                why: "not found".into(),
            })?;
        Ok(folder)
    }

    fn octets_at(&self, key: &Key) -> Result<Option<u64>, DepositError> {
        let quiet = Watch {
            progress: &|_| {},
            cancelled: &|| false,
        };
        let seen = self.line.patiently("looking", quiet, || async {
            match self.store.head(key).await {
                Ok(seen) => Ok(Some(seen.size)),
                Err(object_store::Error::NotFound { .. }) => Ok(None),
                Err(error) => Err(error),
            }
        });
        self.line.wait(seen)
    }

    fn key_of(&self, name: &str) -> Result<Key, DepositError> {
        Key::parse(name).map_err(|error| DepositError::Address {
            address: self.line.place.clone(),
            why: error.to_string(),
        })
    }

    fn url_of(&self, name: &str) -> Url {
        let mut url = self.url.clone();
        if let Ok(mut parts) = url.path_segments_mut() {
            parts.pop_if_empty().push(name);
        }
        url
    }

    /// Sends the octets once.
    async fn put(
        &self,
        bundle: &Bundle,
        name: &str,
        watch: Watch<'_>,
    ) -> Result<StatusCode, Broken> {
        let (file, _) = open_file(&bundle.path).map_err(DepositError::from)?;
        let moved = Arc::new(AtomicU64::new(0));
        let request = self
            .client
            .put(self.url_of(name))
            .header("content-length", bundle.octets)
            .header("content-type", "application/zip")
            .body(body(file, Arc::clone(&moved)))
            .send();
        let mut request = Box::pin(request);
        let (mut told, mut idle) = (0, 0);
        loop {
            match select(request, Box::pin(tokio::time::sleep(LOOK))).await {
                Either::Left((answer, _)) => {
                    let answer = answer.map_err(|e| Broken::Line(innermost(&e)))?;
                    (watch.progress)(bundle.octets.saturating_sub(told));
                    return Ok(answer.status());
                }
                Either::Right(((), still)) => request = still,
            }
            if (watch.cancelled)() {
                return Err(DepositError::Stopped.into());
            }
            let now = moved.load(Ordering::Relaxed);
            idle = if now == told { idle + 1 } else { 0 };
            if idle > PATIENCE {
                return Err(Broken::Line("nothing moved for two minutes".into()));
            }
            (watch.progress)(now.saturating_sub(told));
            told = now;
        }
    }

    async fn put_patiently(
        &self,
        bundle: &Bundle,
        name: &str,
        watch: Watch<'_>,
    ) -> Result<(), DepositError> {
        let mut rest = Duration::from_millis(200);
        for left in (0..TRIES).rev() {
            let why = match self.put(bundle, name, watch).await {
                Ok(status) if status.is_success() => return Ok(()),
                Ok(status)
                    if status == StatusCode::UNAUTHORIZED || status == StatusCode::FORBIDDEN =>
                {
                    let place = self.line.place.clone();
                    return Err(DepositError::Refused {
                        place,
                        why: status.to_string(),
                    });
                }
                Ok(status) if !status.is_server_error() => {
                    return Err(self.line.broke(&bundle.name, &status.to_string()));
                }
                Ok(status) => status.to_string(),
                Err(Broken::Line(why)) => why,
                Err(Broken::Here(error)) => return Err(error),
            };
            if left == 0 {
                return Err(self.line.broke(&bundle.name, &why));
            }
            tokio::time::sleep(rest).await;
            rest *= 2;
        }
        Err(DepositError::Stopped)
    }

    /// Gives the bundle its name, where that is free (RFC 4918, section 10.6: `Overwrite: F`).
    async fn give_name(&self, from: &str, bundle: &Bundle) -> Result<(), DepositError> {
        let to = self.url_of(&bundle.name);
        let method = Method::from_bytes(b"MOVE").unwrap_or(Method::PUT);
        let answer = self
            .client
            .request(method, self.url_of(from))
            .header("destination", to.as_str())
            .header("overwrite", "F")
            .send()
            .await
            .map_err(|e| self.line.broke(&bundle.name, &innermost(&e)))?;
        match answer.status() {
            status if status.is_success() => Ok(()),
            StatusCode::PRECONDITION_FAILED => Err(DepositError::OtherFile {
                name: bundle.name.clone(),
                place: self.line.place.clone(),
            }),
            status => Err(self.line.broke(&bundle.name, &status.to_string())),
        }
    }
}

/// What ended a sending.
enum Broken {
    Line(String),
    Here(DepositError),
}

impl From<DepositError> for Broken {
    fn from(error: DepositError) -> Self {
        Self::Here(error)
    }
}

fn innermost(error: &dyn std::error::Error) -> String {
    let mut innermost = error;
    while let Some(source) = innermost.source() {
        innermost = source;
    }
    innermost.to_string()
}

/// The file as a body, read as it is sent; `moved` counts the octets.
fn body(file: File, moved: Arc<AtomicU64>) -> Body {
    let chunks = stream::try_unfold((file, moved), |(mut file, moved)| async move {
        let mut buffer = vec![0; CHUNK];
        let got = file.read(&mut buffer)?;
        buffer.truncate(got);
        moved.fetch_add(got as u64, Ordering::Relaxed);
        Ok::<_, std::io::Error>((got > 0).then_some((buffer, (file, moved))))
    });
    Body::wrap_stream(chunks)
}

impl Place for WebDav {
    fn octets_of(&self, name: &str) -> Result<Option<u64>, DepositError> {
        self.octets_at(&self.key_of(name)?)
    }

    fn send(&self, bundle: &Bundle, _: &mut Memory, watch: Watch<'_>) -> Result<(), DepositError> {
        // The digest in the name keeps two studios' unfinished files apart.
        let digest = bundle.sha256.to_string();
        let unfinished = format!("{UNFINISHED_PREFIX}{}-{}", &digest[..16], bundle.name);
        let key = self.key_of(&unfinished)?;
        self.line.wait(async {
            let done = async {
                self.put_patiently(bundle, &unfinished, watch).await?;
                let arrived = read_back(&self.store, &self.line, &key, &bundle.name, watch).await?;
                bundle.must_be(arrived, &self.line.place)?;
                self.give_name(&unfinished, bundle).await
            }
            .await;
            if done.is_err() {
                // What is unfinished has no use; that it can't be taken away is no news.
                let _ = self.store.delete(&key).await;
            }
            done
        })
    }

    fn digest_of(&self, name: &str, watch: Watch<'_>) -> Result<Sha256Digest, DepositError> {
        let key = self.key_of(name)?;
        self.line
            .wait(read_back(&self.store, &self.line, &key, name, watch))
    }

    fn reads_back_itself(&self) -> bool {
        true
    }
}
