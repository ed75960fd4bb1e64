//! The line to a store of the network: one client, its patience, and its errors in a weaver's words, from which
//! every secret is taken out.

use std::future::Future;
use std::sync::Arc;
use std::time::Duration;

use async_trait::async_trait;
use object_store::client::{
    ClientOptions, HttpClient, HttpConnector, HttpError, HttpRequest, HttpResponse, HttpService,
};
use object_store::{BackoffConfig, HeaderMap, HeaderValue, RetryConfig};
use tokio::runtime::{Builder, Runtime};

use super::{DepositError, Watch};

/// How long a connection may take to be made.
const CONNECT: Duration = Duration::from_secs(10);
/// How long one request of at most a part's size may take; a thin line needs minutes for a part.
const REQUEST: Duration = Duration::from_secs(15 * 60);
/// How often a request that broke is tried again.
const TRIES: u32 = 5;
/// The first rest before trying again; each further one is twice as long.
const REST: Duration = Duration::from_millis(200);

/// What stores say to one whom they don't let in.
const REFUSALS: &[&str] = &[
    "InvalidAccessKeyId",
    "SignatureDoesNotMatch",
    "AccessDenied",
    "401 Unauthorized",
    "403 Forbidden",
];

/// A line to one place.
pub(super) struct Line {
    runtime: Runtime,
    /// The place, as it may be shown.
    pub place: String,
    secrets: Vec<String>,
}

impl Line {
    /// A line to `place`; the secrets never appear in what is told of it.
    pub fn new(place: String, secrets: Vec<String>) -> Result<Self, DepositError> {
        let runtime = Builder::new_current_thread()
            .enable_all()
            .build()
            .map_err(|error| DepositError::Line {
                name: "beginning".into(),
                place: place.clone(),
                why: error.to_string(),
            })?;
        let secrets = secrets.into_iter().filter(|s| s.len() >= 3).collect();
        Ok(Self {
            runtime,
            place,
            secrets,
        })
    }

    /// Waits for what was begun.
    pub fn wait<T>(&self, what: impl Future<Output = T>) -> T {
        self.runtime.block_on(what)
    }

    /// Does what may break, up to [`TRIES`] times, resting longer each time.
    pub async fn patiently<T, F: Future<Output = Result<T, object_store::Error>>>(
        &self,
        name: &str,
        watch: Watch<'_>,
        mut what: impl FnMut() -> F,
    ) -> Result<T, DepositError> {
        let mut rest = REST;
        for left in (0..TRIES).rev() {
            if (watch.cancelled)() {
                return Err(DepositError::Stopped);
            }
            match what().await {
                Ok(done) => return Ok(done),
                Err(error) if left > 0 && may_pass(&error) => {
                    tokio::time::sleep(rest).await;
                    rest *= 2;
                }
                Err(error) => return Err(self.error(name, &error)),
            }
        }
        Err(DepositError::Stopped)
    }

    /// An error in words.
    pub fn error(&self, name: &str, error: &object_store::Error) -> DepositError {
        use object_store::Error as Its;
        let place = self.place.clone();
        match error {
            Its::NotFound { .. } => DepositError::NotThere {
                place,
                why: "not found".into(),
            },
            Its::AlreadyExists { .. } | Its::Precondition { .. } => DepositError::OtherFile {
                name: name.to_owned(),
                place,
            },
            Its::PermissionDenied { .. } => DepositError::Refused {
                place,
                why: "no permission".into(),
            },
            Its::Unauthenticated { .. } => DepositError::Refused {
                place,
                why: "not known".into(),
            },
            other => {
                let why = chain(other);
                let says = |codes: &[&str]| codes.iter().any(|code| why.contains(code));
                if says(&["NoSuchBucket", "NoSuchUpload"]) {
                    let why = "not found".into();
                    DepositError::NotThere { place, why }
                } else if says(REFUSALS) {
                    let why = "this name or password is not taken".into();
                    DepositError::Refused { place, why }
                } else {
                    self.broke(name, &why)
                }
            }
        }
    }

    /// The line broke, in the words of the last report.
    pub fn broke(&self, name: &str, why: &str) -> DepositError {
        DepositError::Line {
            name: name.to_owned(),
            place: self.place.clone(),
            why: self.without_secrets(why),
        }
    }

    fn without_secrets(&self, text: &str) -> String {
        let mut text = text.to_owned();
        for secret in &self.secrets {
            text = text.replace(secret.as_str(), "…");
        }
        // A store may answer with a page of markup; what stands before it says enough.
        let first = text.split(['<', '\n']).next().unwrap_or_default();
        let first: String = first.chars().take(300).collect();
        first.trim_end_matches([' ', ':']).to_owned()
    }
}

/// The report and what it came from, innermost last.
fn chain(error: &dyn std::error::Error) -> String {
    let mut innermost = error;
    while let Some(source) = innermost.source() {
        innermost = source;
    }
    let (whole, innermost) = (error.to_string(), innermost.to_string());
    if whole.contains(&innermost) {
        whole
    } else {
        format!("{whole}: {innermost}")
    }
}

/// Whether trying again may help: the line was at fault, and not the answer, which the store's crate has asked for
/// again where that is of use.
fn may_pass(error: &object_store::Error) -> bool {
    matches!(error, object_store::Error::Generic { .. }) && !is_answer(&chain(error))
}

/// Whether a report is of what the store answered.
pub(super) fn is_answer(why: &str) -> bool {
    why.contains("Server returned")
}

/// How the store's crate itself tries again. It knows best which requests may be repeated.
pub(super) fn retries() -> RetryConfig {
    RetryConfig {
        backoff: BackoffConfig {
            init_backoff: REST,
            max_backoff: Duration::from_secs(5),
            base: 2.0,
        },
        max_retries: 3,
        retry_timeout: REQUEST,
    }
}

/// The client: TLS by `rustls` with the certificates of this machine, no redirection to another host, and the
/// given headers with every request. `limit` is the time one request may take.
pub(super) fn client(
    headers: HeaderMap,
    limit: Option<Duration>,
) -> Result<reqwest::Client, reqwest::Error> {
    // A second call finds one installed, which is as good.
    let _ = rustls::crypto::ring::default_provider().install_default();
    let builder = reqwest::Client::builder()
        .user_agent(concat!("offloom/", env!("CARGO_PKG_VERSION")))
        .default_headers(headers)
        .redirect(reqwest::redirect::Policy::none())
        .connect_timeout(CONNECT);
    match limit {
        Some(limit) => builder.timeout(limit),
        None => builder,
    }
    .build()
}

/// Makes the store's crate use our client, which ends a sending in parts only where the name is still free.
#[derive(Debug)]
pub(super) struct Careful(pub HeaderMap);

impl HttpConnector for Careful {
    fn connect(&self, _: &ClientOptions) -> object_store::Result<HttpClient> {
        let client = client(self.0.clone(), Some(REQUEST)).map_err(|error| {
            object_store::Error::Generic {
                store: "client",
                source: Box::new(error),
            }
        })?;
        Ok(HttpClient::new(NoClobber(Arc::new(client))))
    }
}

#[derive(Debug)]
struct NoClobber(Arc<reqwest::Client>);

#[async_trait]
impl HttpService for NoClobber {
    async fn call(&self, mut request: HttpRequest) -> Result<HttpResponse, HttpError> {
        // The last request of a sending in parts (CompleteMultipartUpload). The crate asks it to overwrite;
        // with this header, which the signature does not cover, the store refuses where there is such an object.
        let ends = request.method().as_str() == "POST"
            && request
                .uri()
                .query()
                .is_some_and(|query| query.contains("uploadId="));
        if ends {
            let any = HeaderValue::from_static("*");
            request.headers_mut().insert("if-none-match", any);
        }
        self.0.call(request).await
    }
}
